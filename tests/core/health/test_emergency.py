"""The emergency page: short enough to be read at a run, and sending to a vet at once."""

from __future__ import annotations

from pottyboard.core.health import emergency


def test_the_lines_are_few_and_short() -> None:
    assert len(emergency.SIGNS) <= 8
    assert all(len(line) <= 56 for line in emergency.SIGNS)
    assert all(len(line) <= 70 for line in (*emergency.DO, *emergency.CARE))


def test_the_sign_of_this_trade_comes_first() -> None:
    # Texas Veterinary Medical Association, texvetpets.org, January 2015 (read).
    assert "pee" in emergency.SIGNS[0]
    for sign in ("blood", "vomiting", "listless", "off food"):
        assert sign in emergency.WITH_IT


def test_it_says_to_phone_now_and_not_to_wait() -> None:
    assert "vet now" in emergency.TITLE
    assert "phone a vet now" in emergency.DO[0]
    assert "Do not wait" in emergency.DO[1]


def test_people_are_warned_too() -> None:
    """Common practice, no source: pain and fear make any dog bite."""
    care = " ".join(emergency.CARE)
    for said in (
        "may bite",
        "hands away from its mouth",
        "nothing by mouth unless the vet says so",
    ):
        assert said in care
