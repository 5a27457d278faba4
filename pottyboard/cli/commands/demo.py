"""The commands ``demo``, which shows an invented log, and ``check``, which reads one's own."""

from __future__ import annotations

from argparse import ArgumentParser
from pathlib import Path
from tempfile import TemporaryDirectory

from pottyboard.cli.commands.request import Request, on_terminal, zone_here
from pottyboard.cli.output.messages import DONE, exit_code, warn
from pottyboard.core.view.situation import situation
from pottyboard.papers.plain import day_text, now_text
from pottyboard.papers.replies import check_text, sample_text
from pottyboard.store import StoreError
from pottyboard.store.samples import copy_sample, read_sample, sample_names


def demo_options(parser: ArgumentParser) -> None:
    """Add which sample."""
    parser.add_argument("name", nargs="?", metavar="NAME", help="which sample log")
    parser.add_argument("--list", action="store_true", help="name the sample logs")


def run_demo(request: Request) -> int:
    """Open a sample log in a temporary home, or print its situation and its day."""
    if request.args.list:
        for name in sample_names():
            sample = read_sample(name)
            print(sample_text(name, sample.settings, sample.events))
        return DONE
    now = request.now
    with TemporaryDirectory(prefix="pottyboard-demo-") as home:
        demo = copy_sample(read_sample(request.args.name), Path(home), now, zone_here(now))
        if on_terminal():
            ahead = demo.opens_at - now
            return request.open_board(demo.household, None, lambda: request.clock() + ahead)
        view = situation(demo.dog_log.settings, demo.dog_log.events, demo.opens_at)
        print(now_text(view), day_text(view), sep="\n\n")
    return DONE


def check_options(parser: ArgumentParser) -> None:
    """Add nothing: everything is read."""


def run_check(request: Request) -> int:
    """Read everything, and say what is damaged, how much there is and where."""
    household, dog, damaged = request.household, request.args.dog, False
    for name in (dog,) if dog else household.dogs() or (None,):
        try:
            dog_log = household.dog_log(name)
            print(check_text(dog_log.folder, dog_log.settings, dog_log.events, dog_log.notices))
            damaged = damaged or bool(dog_log.notices)
        except StoreError as error:
            warn(str(error))
            damaged = True
    return exit_code(not damaged)
