"""The command ``demo``, which shows an invented log."""

from __future__ import annotations

from argparse import ArgumentParser
from pathlib import Path
from tempfile import TemporaryDirectory

from pottyboard.cli.commands.request import Request, on_terminal, zone_here
from pottyboard.cli.output.messages import DONE
from pottyboard.core.view.situation import situation
from pottyboard.papers.plain import day_text, now_text
from pottyboard.papers.replies import sample_text
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
