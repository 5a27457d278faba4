"""What to expect of the first night: the night break and why, where it sleeps, what whining is."""

from __future__ import annotations

from pottyboard.core.engine.interval import night_hold
from pottyboard.core.model import figures
from pottyboard.core.model.localtime import span_words
from pottyboard.core.view.situation_views import Situation


def first_night(situation: Situation) -> tuple[tuple[str, str], ...]:
    """Return what to read on the first evening, each as what it is about and its sentences.

    The night's figures are those of the engine: a humane society's column of 2019-06-11 says that
    about 8 h are usually doable for a dog over a year, a trainer's digest 8 to 10 h overnight; how
    to sleep, and what to do where a dog whines, is common practice, no source.
    """
    return (
        ("Night break", _night_break(situation)),
        (
            "Its bed",
            "Beside yours for the first nights, or within hearing, so that you notice it stir. "
            "Water stays where it can reach it.",
        ),
        (
            "Whining",
            "At night it is a signal: take it out at once, on the lead, quietly, straight to "
            "the spot and back; no play. If nothing comes, stay near it: all is strange tonight.",
        ),
        (
            "A puddle",
            "No scolding, whether you see it or find it: out calmly, enzyme cleaner, no ammonia. "
            "Wet first nights are common.",
        ),
        (
            "The board",
            "Once the dog is settled it grows dim and counts to the night break, or to morning. "
            "Breaks of the day do not ring at night; a planned night break does.",
        ),
        (
            "Call a vet",
            "Tonight too, if it strains and little or nothing comes, or is unwell. Which signs "
            "those are stands on the page for emergencies.",
        ),
        (
            "Sources",
            "Hours asleep: a humane society's column, a trainer's digest. The rest is common "
            "practice, no source.",
        ),
    )


def _night_break(situation: Situation) -> str:
    """Return when the night break is, and why, or why there is none."""
    settings = situation.settings
    least, most = (
        span_words(round(each)) for each in (night_hold(settings.dog), figures.NIGHT_MOST)
    )
    planned = next((slot for slot in situation.timeline if slot.kind == "night"), None)
    if planned is None:
        return (
            f"None is planned: from the last break to getting up it is no longer than the {least} "
            "that are planned for a dog like this. Go out last thing, and first thing."
        )
    return (
        f"At {settings.clock(planned.at)}, {least} after the last pee, and it moves with that pee: "
        f"the night is longer. Grown dogs often sleep through 8 h, some {most}; of this one nobody "
        "knows yet."
    )
