"""The emergency: signs at which nobody looks at a log first, and what to do then.

Straining with little or no pee, and what comes with it: Texas Veterinary Medical Association,
texvetpets.org, January 2015 (published); how soon it gets dangerous: petyourdog.com (published, a
general page). The other signs are general first aid, from memory.
"""

from __future__ import annotations

from typing import Final

TITLE: Final = "Emergency: phone a vet now"

SIGNS: Final = (
    "strains or cries to pee, and little or nothing comes",
    "collapses, cannot stand, or cannot be woken",
    "struggles to breathe, or its gums are pale or blue",
    "swollen, hard belly, or retches and nothing comes up",
    "bleeds and it does not stop",
    "shakes or jerks all over and does not respond",
    "may have swallowed something poisonous or sharp",
)
"""The signs of an emergency, one short line each, the one of this trade first."""

WITH_IT: Final = "More urgent still with straining: blood, vomiting, listless, off food."

DO: Final = (
    "Any one of these: phone a vet now, at night too.",
    "Do not wait to see whether it passes.",
    "Say what you saw; ask what to do until you get there.",
)
"""What to do, in order."""

CARE: Final = (
    "A dog in pain or fear may bite, yours too: hands away from its mouth.",
    "Move it as little as you can; nothing by mouth unless the vet says so.",
)
"""Cautions for people and dog: common practice, no source."""
