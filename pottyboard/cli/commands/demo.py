"""The command ``demo``, which shows an invented log."""

from __future__ import annotations

import signal
from argparse import ArgumentParser
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Final

from pottyboard.cli.commands.request import Request, on_terminal, zone_here
from pottyboard.cli.output.demo_home import demo_home
from pottyboard.cli.output.messages import DONE
from pottyboard.core.view.situation import situation
from pottyboard.papers.plain import day_text, now_text
from pottyboard.papers.replies import sample_text
from pottyboard.store.samples import copy_sample, read_sample, sample_names

_ENDINGS: Final = ("SIGTERM", "SIGHUP")
"""What ends a program from outside, or with its terminal; POSIX, not every system has both."""


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
    now, sample = request.now, read_sample(request.args.name)
    with _ended_in_order(), demo_home() as home:
        demo = copy_sample(sample, home, now, zone_here(now))
        if on_terminal():
            ahead = demo.opens_at - now
            return request.open_board(
                demo.household, None, lambda: request.clock() + ahead, demo=_told(sample.name)
            )
        view = situation(demo.dog_log.settings, demo.dog_log.events, demo.opens_at)
        print(now_text(view), day_text(view), sep="\n\n")
    return DONE


def _told(shown: str) -> str:
    """Return what the board of a demo says of itself, and of the other samples."""
    others = ", ".join(f"pottyboard demo {name}" for name in sample_names() if name != shown)
    return f"A demo: an invented dog, and nothing of it is kept. Other demos: {others}"


@contextmanager
def _ended_in_order() -> Iterator[None]:
    """Take an end from outside for Ctrl-C meanwhile, so that nothing of the demo is left behind."""

    def end(number: int, frame: object) -> None:
        signal.raise_signal(signal.SIGINT)

    here = [getattr(signal, name) for name in _ENDINGS if hasattr(signal, name)]
    before = {each: signal.signal(each, end) for each in here}
    try:
        yield
    finally:
        for each, was in before.items():
            signal.signal(each, was)
