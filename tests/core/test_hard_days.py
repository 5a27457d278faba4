"""Hard days: each row checks one sentence of the rules of the trade.

The rows are in ``hard_days``, a file a theme; how they read stands in ``hard_days/rows.py``. A row
that is marked ``red`` says what the board should say and does not say yet: it has to fail, so that
whoever mends the cause takes the mark away.

Names that rows use before the code has them (change a name here and in its rows):

=========================== =======================================================================
state ``watching``          nothing came although the dog was due, and the next try is near
kind ``quiet``              the household's answer to a silence that ends with it: nothing happened
job ``silence``             hours by day without an entry: nothing happened?
job ``seen-or-found``       an accident of which nobody has said more
job ``same-one``            two people wrote of one thing minutes apart: was it one?
job ``nap``                 a nap that nobody ended: does the dog still sleep?
finding ``straining-stool`` straining to pass stool, and the warning of that code
warning ``no-stool``        no stool in three days with meals eaten
warning ``stools``          six stools in a day
warning ``often``           (known) also four pees within 2 h that nobody called
home without meal times     food is always there (grazing): no meal calls, whatever is logged
=========================== =======================================================================
"""

from __future__ import annotations

import pytest

from tests.core.hard_days import breaks, entries, households, illness, silence, sums
from tests.core.hard_days.rows import Row

TABLE: tuple[Row, ...] = (
    *entries.ROWS,
    *silence.ROWS,
    *illness.ROWS,
    *breaks.ROWS,
    *sums.ROWS,
    *households.ROWS,
)

RED = pytest.mark.xfail(raises=AssertionError, reason="not so yet", strict=True)


@pytest.mark.parametrize(
    "hard", [pytest.param(one, id=one.id, marks=[RED] if one.red else []) for one in TABLE]
)
def test_hard_day(hard: Row) -> None:
    assert not (faults := hard.faults()), "\n".join((hard.rule, hard.log, *faults))


def test_every_row_has_its_own_name_and_names_its_rule() -> None:
    assert len({one.id for one in TABLE}) == len(TABLE)
    assert all(one.rule.startswith("§") for one in TABLE)
