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


@pytest.mark.parametrize(
    ("away", "rings"), [("", []), ("12:00-14:00", ["11:45", "12:01"])], ids=["home", "leaving"]
)
def test_a_dog_asleep_by_day_is_woken_for_leaving_alone(away: str, rings: list[str]) -> None:
    page = diary(away=away).all_at("06:30 up", "10:30 pee", "11:00 settled")
    alerts, heard = Alerts(), []
    for minute in range(11 * 60, 12 * 60 + 2):
        clock = f"{minute // 60:02}:{minute % 60:02}"
        if alerts.rings(page.at("11:10", "meal").at("11:11", "settled").read(clock)):
            heard.append(clock)
    assert heard == rings
