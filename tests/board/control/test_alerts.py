"""The bell."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from pottyboard.board.control.alerts import Alerts
from pottyboard.core.model.settings import Board
from tests.core.diary import diary


@pytest.mark.parametrize(
    ("states", "rings"),
    [
        ("rest soon due due late late", "··!·!·"),
        ("due due late", "··!"),
        ("late late", "··"),
        ("rest late late", "·!·"),
        ("asleep due late", "·!!"),
        ("alone due rest due", "·!·!"),
        ("late due late", "··!"),
    ],
)
def test_each_change_rings_once(states: str, rings: str) -> None:
    page, alerts = diary().at("09:05", "pee").read("10:00"), Alerts()
    heard = [
        alerts.rings(replace(page, next_break=replace(page.next_break, state=state)))
        for state in states.split()
    ]
    assert heard == [ring == "!" for ring in rings]


def test_it_can_be_off() -> None:
    page, alerts = diary().at("09:05", "pee").read("10:00"), Alerts()
    page = replace(page, settings=replace(page.settings, board=Board(bell=False)))
    for state in ("rest", "due", "late"):
        assert not alerts.rings(replace(page, next_break=replace(page.next_break, state=state)))
