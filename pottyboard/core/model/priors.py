"""The numbers behind what is believed before the log speaks, and how it is learned from it.

Most are our own choice, made by the simulated dogs; each says why.
"""

from __future__ import annotations

from typing import Final

from pottyboard.core.model.figure import own as _own
from pottyboard.core.model.figure import published as _published
from pottyboard.core.model.figures import RSPCA

HOLD_MEDIAN_SMALL: Final = _own(
    240, "min", "the middle untrained small dog goes indoors after this"
)
HOLD_MEDIAN_MEDIUM: Final = _own(280, "min", "the same for a medium dog")
HOLD_MEDIAN_LARGE: Final = _own(320, "min", "the same for a large dog")
HOLD_SHARE_PRONE: Final = _own(0.75, "of the hold", "a dog prone to accidents holds less")
HOLD_SHARE_SENIOR: Final = _own(0.9, "of the hold", "a senior dog holds somewhat less")
HOLD_SPREAD: Final = _own(0.35, "log units", "dogs of one size differ by about a third")
HOLD_SHAPE: Final = _own(4.0, "Weibull shape", "how sharply the risk rises within one hold")
HOLD_SHAPE_SPREAD: Final = _own(0.6, "log units", "dogs of one median differ widely in that")
SHAPE_SPREAD: Final = _own(0.3, "log units", "how little is known of that sharpness")
HOLD_NIGHT_TIMES: Final = _own(2.5, "times", "a night asleep against a hold awake")
SLEEP_SHARE: Final = _own(0.5, "of a minute", "a minute asleep fills the bladder half as much")
READY_SPREAD: Final = _own(0.5, "log units", "dogs differ widely in when a meal comes out")
READY_SHAPE: Final = _own(1.6, "Weibull shape", "and so does one dog from meal to meal")
STOOL_HELD: Final = _own(150, "min", "for so long the middle dog holds stool that is ready")
STOOL_HELD_SPREAD: Final = _own(0.5, "log units", "dogs differ widely in how long they hold stool")
STOOL_HELD_SHAPE: Final = _own(2.0, "Weibull shape", "how sharply that risk rises")
STOOL_HELD_MOST: Final = _own(60, "min", "no stool outside is taken to prove more than this")
STOOL_SLEEP_SHARE: Final = _own(
    0.25, "of a minute", "a minute asleep counts so much for how long stool is held"
)
STOOL_MISSED: Final = _own(
    0.15,
    "of the outings",
    "a dog forgets outside: stool that is ready does not come at so many "
    "(simulated dogs: half of their stools indoors had been missed at the outing before)",
)
STOOL_READY_BEFORE: Final = _own(30, "min", "it was ready no longer than this before it came")
MEAL_SPENT: Final = _own(240, "min", "still without stool so long after a meal: it brings none")
MEALS_WITH_STOOL: Final = _own(0.67, "of the meals", "so many bring a stool before the log speaks")
MEALS_BEFORE: Final = _own(6, "meals", "so many meals weigh as much as that guess")
HOURS_WIDTH: Final = _own(50, "min", "a dog's hours for stool scatter by this from day to day")
STOOLS_APART: Final = _own(240, "min", "so long after a stool the next is still rather unlikely")
HOURS_FORGOTTEN: Final = _own(0.1, "of a stool", "one that weighs less no longer counts")
HOURS_TRUSTED_AFTER: Final = _own(
    1.5,
    "days",
    "so many days of stools weigh as much as the meals "
    "(simulated dogs: foretold their stools indoors best of 1, 1.5, 3 and 6 days)",
)
TALLY_KEPT_A_DAY: Final = _own(0.97, "of the tally", "older predictions count less, but slowly")
TALLY_PREDICTED: Final = _own(
    1, "accident", "so many predicted ones weigh beside a dog's own tally while it is small"
)
TALLY_HAD: Final = _own(
    0.4,
    "accident",
    "and so many of them came (simulated dogs: the best score of 18 ways tried, 36 dogs)",
)
KEPT_A_DAY: Final = _own(0.9, "of the evidence", "older days count less: the dog is learning")
HOLDS_TO_SPEAK: Final = _own(5, "holds", "before that the estimate is shown but calls no break")
HOLDS_TO_KNOW: Final = _own(
    12, "holds", "from then on one chance calls the breaks, and meals, drinks and play are evidence"
)
FIRST_DAYS_SHARE: Final = _own(
    0.75,
    "of the interval",
    "the estimate of a dog that is not known yet calls no sooner: one accident makes no day of "
    "breaks 45 min apart (simulated dogs: as many outings and 0.3 accidents fewer, 96 trials)",
)
KNOWN_FROM_DAY: Final = _own(3, "day", "the first days stay by the fixed reasons of the trade")
NIGHTS_TO_SPEAK: Final = _own(3, "nights", "before that nothing is said of the hold over a night")
NIGHT_WET: Final = _own(
    0.25, "of a wet night", "from one wet night on, for two weeks, its log may call a night break"
)
NIGHT_CHANCE: Final = _own(
    0.09,
    "chance",
    "a wet night is risked sooner than somebody is woken, at any level "
    "(simulated dogs: tied to the level, wet nights doubled)",
)
NIGHT_AGAIN: Final = _own(120, "min", "a night break that brought nothing is tried again so late")
NIGHT_LEAST: Final = _own(120, "min", "nobody is woken for the log sooner than this")
STOOLS_TO_KNOW: Final = _own(
    4, "stools", "from then on the dog's own digestion replaces the default"
)
DIGESTION_LONGEST: Final = _own(180, "min", "no after-meal break is planned later than this")
LIMIT_CAREFUL: Final = _own(0.02, "chance", "more outings, fewer accidents (simulated dogs)")
LIMIT_BALANCED: Final = _own(0.04, "chance", "where one outing more a day saves little more")
LIMIT_EASY: Final = _own(0.1, "chance", "about as few outings as the interval allows")
MODEL_LEAST: Final = _published(
    45,
    "min",
    f"{RSPCA}: every 45 min at the strictest; the estimate asks no sooner after an outing",
)
WATCH_SHARE: Final = _own(
    0.25, "of the limit", "from this chance on the dog is worth a look before its break"
)
KEPT_LATE: Final = _own(
    10, "min", "so late a household keeps a break before its own log speaks: it is called ahead"
)
LATE_CALLS: Final = _own(10, "calls", "so many calls of the log weigh as much as that guess")
LATE_CALLS_AN_HOUR: Final = _own(
    6, "calls", "so many calls within an hour weigh as much as the whole day"
)
LATE_KEPT_A_DAY: Final = _own(0.95, "of the calls", "older days of the household count less")
LATE_COUNTED: Final = _own(60, "min", "one outing counts as no later than this")
LATE_MOST: Final = _own(25, "min", "no break is called further ahead for a late household")
HOLD_BACK: Final = _own(3, "times the limit", "a wider interval riskier than this has to wait")
