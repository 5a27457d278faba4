"""The board, which opens where no command is typed; where there is no terminal, the situation."""

from __future__ import annotations

from argparse import Namespace

from pottyboard.cli.commands.now import now_of_all, run_now
from pottyboard.cli.commands.request import Request, on_terminal


def run_board(request: Request) -> int:
    """Open the board, or print the situation of the dog or of all."""
    args, household = request.args, request.household
    if on_terminal():
        return request.open_board(household, args.dog, request.clock)
    request.args = Namespace(
        **vars(args), at=None, json=False, line=None, all=False, exit_state=False
    )
    if args.dog is None and len(household.dogs()) > 1:
        return now_of_all(request)
    return run_now(request)
