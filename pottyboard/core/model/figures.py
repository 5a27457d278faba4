"""Every number of the trade, each with its unit and where it comes from.

Each is a :class:`~pottyboard.core.model.figure.Figure`, so that a paper or a help page can print
the number and its origin together.
"""

from __future__ import annotations

from typing import Final

from pottyboard.core.model.figure import Figure
from pottyboard.core.model.figure import habit as _habit
from pottyboard.core.model.figure import own as _own
from pottyboard.core.model.figure import published as _published
from pottyboard.core.model.figure import recalled as _recalled
from pottyboard.core.model.figure import trainers as _trainers

WISCONSIN: Final = "Wisconsin Humane Society, Housetraining for Adult Dogs"
RSPCA: Final = "RSPCA, Toilet training your dog"
FOSTER: Final = "We Foster Dogs, House and crate training"
ASPCA: Final = "ASPCA adult house-training advice, as carried by medicinenet.com"

# --- Size and age -------------------------------------------------------------------------------

SMALL_BELOW_KG: Final = _own(10, "kg", "a dog under 10 kg is planned for as small")
TOY_BELOW_KG: Final = _own(4, "kg", "a toy dog: it dries out sooner, and holds less")
LARGE_FROM_KG: Final = _own(20, "kg", "a dog of 20 kg or more is planned for as large")
ADULT_FROM_MONTHS: Final = _published(
    12, "months", f"{RSPCA}: full bladder capacity at about 12 months"
)
WEIGHT_LEAST_KG: Final = _own(0.5, "kg", "lighter than any adult dog: taken as a slip of the keys")
WEIGHT_MOST_KG: Final = _own(120, "kg", "heavier than any dog: taken as a slip of the keys")
KG_PER_POUND: Final = _published(0.45359237, "kg", "International yard and pound agreement, 1959")

# --- The interval and how it grows --------------------------------------------------------------

START_INTERVAL: Final = _published(120, "min", f"{FOSTER}: at most 2 h while a new dog settles")
START_INTERVAL_SHORT: Final = _own(
    90, "min", "prone, under 4 kg, senior, or on a medicine that makes it pass more water"
)
TOP_INTERVAL_SMALL: Final = _habit(180, "min", "small adults settle at a break about every 3 h")
TOP_INTERVAL_MEDIUM: Final = _own(210, "min", "half way between the small and the large dog")
TOP_INTERVAL_LARGE: Final = _habit(240, "min", "large adults settle at a break about every 4 h")
TOP_INTERVAL_PRONE: Final = _habit(120, "min", "dogs prone to accidents: a break about every 2 h")
MOST_INTERVAL_PRONE: Final = _own(150, "min", "the most that a household may set for a prone dog")
MOST_INTERVAL: Final = _recalled(
    240, "min", "crate-training guidance, taken for the HSUS's: adults in house-training 3 to 4 h"
)
FLOOR_INTERVAL: Final = _published(45, "min", f"{RSPCA}: every 45 min at the strictest")
STEP: Final = _own(30, "min", "no authority gives a step; trainers use 15 min to 2 h")
CLEAR_DAYS_TO_WIDEN: Final = _own(2, "days", "two clear days in a row at the present interval")
NARROWER_A_DAY: Final = _own(2, "steps", "at most so often in a day")
SILENCE: Final = _own(240, "min", "awake without an entry: longer, and the day is unknown")
SILENCE_WIDE: Final = _own(300, "min", "the same where the interval is over 3 h")
WIDE_INTERVAL: Final = _own(180, "min", "from over this on a silence may be longer")
HOLD_TOO_LONG: Final = _own(2, "intervals", "a hold awake over this leaves the day unknown")
ASKED_FOR: Final = _own(2 * 1440, "min", "a question of the board stands so long: nobody remembers")
SAME_WITHIN: Final = _own(15, "min", "two people's entries of one sort so close may be one thing")
SIGN_ENDS_WITHIN: Final = _own(15, "min", "a pee so soon after a sign: the dog ended that hold")
SAFE_SHARE: Final = _own(0.97, "of waits", "so many stay dry to what is called likely safe")
BEYOND_SHOWN: Final = _own(1.5, "times", "of the longest dry hold: nothing is said beyond it")
ASKED_WEIGHT: Final = _own(0.25, "of a hold", "a dog that asks could mostly have waited on")
ABOUT_NOW: Final = _own(15, "min", "a hold that the dog ended says its length, give or take this")
HOLDS_TO_WIDEN: Final = _own(3, "holds", "awake holds near the interval in those days")
HOLD_NEAR_INTERVAL: Final = _own(20, "min", "a hold this much shorter still counts as evidence")
OUTINGS_FOR_CLEAR_DAY: Final = _published(4, "outings", f"{ASPCA}: at least four outings a day")
SILENCE_TOO_LONG: Final = _trainers(
    480, "min", "carriesdogwalkpetsit.com: 8 h is the limit by day at any age"
)

# --- When the next break is due ------------------------------------------------------------------

AFTER_MEAL: Final = _published(15, "min", f"{WISCONSIN}: 10 to 20 min after a meal")
AFTER_DRINK: Final = _published(20, "min", f"{WISCONSIN}: 10 to 20 min after a long drink")
AFTER_PLAY: Final = _published(15, "min", f"{WISCONSIN}: 10 to 20 min into indoor play")
AFTER_NOTHING: Final = _published(15, "min", f"{FOSTER}: try again every 15 min")
RETRIES: Final = _own(3, "tries", "so often after 15 min, then every half hour until pee comes")
WATCHED_WAIT: Final = _own(
    30, "min", "the next try at the latest; a dog that is known waits so long if its risk allows"
)
SHARE_TO_RETRY: Final = _own(
    0.5,
    "of the interval",
    "nothing so soon after a pee is no failed try "
    "(simulated dogs: 0.35 instead of 0.59 of a timetable's accidents)",
)
LONG_NAP: Final = _published(30, "min", f"{WISCONSIN}: at once after a long nap (30 min is ours)")
BEFORE_LEAVING: Final = _published(15, "min", f"{ASPCA}: out before being left (15 min is ours)")
DIGESTION_SMALL: Final = _habit(60, "min", "a small dog needs to go about an hour after eating")
DIGESTION_MEDIUM: Final = _own(75, "min", "half way between the small and the large dog")
DIGESTION_LARGE: Final = _own(90, "min", "larger dogs hold longer after eating, by common practice")
DIGESTION_FORGOTTEN: Final = _own(360, "min", "a meal this long ago no longer asks for a break")
NIGHT_HOLD: Final = _published(
    480, "min", "a humane society's column of 2019-06-11 (HHS): about 8 h is usually doable"
)
NIGHT_HOLD_SMALL: Final = _own(360, "min", "small or prone dogs are planned for two hours less")
NIGHT_MOST: Final = _trainers(600, "min", "carriesdogwalkpetsit.com: 8 to 10 h overnight")
NIGHT_BREAK_NIGHTS: Final = _own(7, "nights", "the first week gets a planned break on long nights")
NIGHT_BREAK_WORTH: Final = _own(30, "min", "closer than this to getting up, nobody is woken for it")
NIGHT_ACCIDENT_NIGHTS: Final = _own(3, "nights", "after a wet night the planned break comes back")
SERVES_WITHIN: Final = _own(10, "min", "one break serves every reason due this soon after it")
SERVES_WITHIN_KNOWN: Final = _own(20, "min", "the same once the dog is known")
REST_AFTER_SUCCESS: Final = _own(
    10, "min", "no new break this soon after a success, signs excepted"
)
BREAKS_APART: Final = _own(15, "min", "a plan shows no two breaks closer by a clock of the day")
NAP_INTERVALS: Final = _own(2, "intervals", "after the last pee a nap counts as ended")
NAP_ASKED_AGAIN: Final = _own(60, "min", "a dog said to sleep on is asked about again")
PAIRED_WITHIN: Final = _own(90, "min", "an outing further from a planned break was not that one")
SOON: Final = _own(15, "min", "a break this close is announced")
LATE: Final = _own(15, "min", "a break this much past its time is late")
RINGS_AGAIN: Final = _own(5, "min", "while a break is late it rings this often")
RINGS_AGAIN_CALM: Final = _own(30, "min", "the same after the first two weeks")
ON_THE_WAY: Final = _own(10, "min", "whoever went out that long ago has an outing to log")
NOT_ON_THE_WAY: Final = _own(60, "min", "whoever went out that long ago has forgotten to log it")
ONE_OUTING: Final = _own(10, "min", "entries this close together belong to one outing")
SHARE_AFTER_DRY_OUTING: Final = _own(
    0.5, "of the interval", "an outing in time that brought no pee: ask again at half the interval"
)
SMALL_PEE_SHARE: Final = _own(
    0.5, "of the interval", "after a small pee a break at half the interval, or when it was due"
)
QUIET_AFTER_OUTING: Final = _own(
    15, "min", "quiet this long after bedtime and the last outing: taken to sleep for the night"
)
QUIET_NIGHT: Final = _own(120, "min", "the same where no last outing was logged")
TRY_LASTS: Final = _published(
    5, "min", "Wisconsin Humane Society, ask the experts: 3 to 5 min a try"
)

# --- The day --------------------------------------------------------------------------------------

UP_EARLIEST: Final = _own(180, "min", "getting up this long before the routine still starts a day")
UP_LATEST: Final = _own(300, "min", "getting up this long after the routine still starts a day")
OUTING_STARTS_DAY: Final = _own(90, "min", "an outing this soon before getting up starts the day")
LAST_THING_FROM: Final = _own(45, "min", "an outing this soon before bedtime is the last thing")
MEAL_MATCH: Final = _own(90, "min", "a meal this close to a planned one is that meal")
ABSENCE_GIVEN_UP: Final = _own(15, "min", "nobody left this long after the time: not leaving")

# --- The first days -------------------------------------------------------------------------------

PRAISE_DAYS: Final = _own(5, "days", "the board reminds to praise on the spot this long")
FREEDOM_AFTER_SUCCESS: Final = _published(
    15, "min", f"{ASPCA}: 15 to 20 min of freedom after a success, to begin with"
)
HOUSE_TRAINED_WEEKS: Final = _published(
    6, "weeks", "Ahimsa Rescue Foundation: at least six clean weeks before a dog is called reliable"
)
PROGRAMME_DAYS: Final = _own(14, "days", "the first two weeks at home")

# --- Meals ----------------------------------------------------------------------------------------

MEALS_MOST: Final = _own(6, "meals", "more meals than this are taken as a slip of the keys")
MEAL_LEAD: Final = _habit(180, "min", "the morning meal about 3 h ahead of leaving")


# --- Away from home -------------------------------------------------------------------------------

ALONE_MOST: Final = _recalled(
    240, "min", "crate-training guidance, taken for the HSUS's: adults in house-training 3 to 4 h"
)
LAST_BREAK_LEAST: Final = _own(5, "min", "the last break ends before the coat is on")
LONG_AWAY: Final = _habit(480, "min", "away 8 to 10 h: at least one break near the middle")
NEAR_MIDDLE: Final = _own(
    90, "min", "a visit this close to the middle of a long absence is near it"
)
VISIT_LASTS: Final = _own(20, "min", "a visit: out at once, water, a look at the floor")
VISIT_GRID: Final = _own(5, "min", "visits begin at full five minutes")
VISIT_ROUND: Final = _own(15, "min", "at quarter hours where that costs nothing")
VISITS_APART: Final = _own(
    90, "min", "one helper comes, goes and has a life: visits closer than this are no plan"
)
PROPOSAL_GAIN: Final = _own(
    10, "min", "a change of what was agreed has to spare the dog this much waiting too long"
)
VISIT_ALARM: Final = _own(30, "min", "the calendar's reminder ahead of a visit: time to get there")
CALENDAR_DAYS: Final = _own(3, "days", "today, tomorrow and a day of routine: more nobody can know")
CALENDAR_DAYS_MOST: Final = _own(14, "days", "two weeks: the length of the programme")
CALENDAR_LASTS: Final = _own(10, "min", "an entry of the calendar, long enough to be seen in it")
CALENDAR_ALARM: Final = _own(5, "min", "the calendar's reminder ahead of a break: shoes and lead")
CALENDAR_ALARM_MOST: Final = _own(120, "min", "an earlier reminder is of another break")
CALENDAR_SAME: Final = _own(60, "min", "an entry that moves by so much or more is another one")
COST_MOST: Final = _own(9999.99, "a visit", "a dearer visit is taken as a slip of the keys")
NOTICE_MOST: Final = _own(14 * 1440, "min", "a longer notice is taken as a slip of the keys")
MEAL_AFTER_UP: Final = _own(15, "min", "after getting up: first the break, then the meal")
MEALS_APART: Final = _own(120, "min", "moved meals keep this far apart")
MEAL_BEFORE_BED: Final = _own(120, "min", "the evening meal well before bedtime (2 h is ours)")
REMEDY_MOST: Final = _own(180, "min", "a greater change of hours is no longer a small one")
SLIP_EVERY: Final = _own(7, "days", "the outlook with slips has one accident a week")
SLIP_FIRST: Final = _own(4, "days", "the first of them in the middle of the coming week")
PRACTICE_FIRST: Final = _own(1, "min", "the first practice absence: out of the door and back")
PRACTICE_GROWS: Final = _own(2, "times", "a calm practice doubles the next one")
PRACTICE_SHRINKS: Final = _own(0.5, "times", "a distressed one halves it")
PRACTICE_A_DAY: Final = _own(3, "a day", "practice absences, spread over the day")
PRACTICE_REFER: Final = _own(2, "in a row", "distressed this often: ask a professional")
REPORT_NOTE_MOST: Final = _own(500, "characters", "one note of a visit report")
SHEET_DAYS: Final = _own(7, "days", "a handover sheet holds a week: it has to fit one page")


# --- Accidents ------------------------------------------------------------------------------------

REPEAT_WITHIN: Final = _own(14, "days", "a second accident at or beside a spot in two weeks")
REPEAT_FROM: Final = _own(2, "accidents", "a smell left behind invites a repeat: block access")
GREETING_WITHIN: Final = _own(5, "min", "an accident this soon after a greeting or play is of it")
WOKE_WITHIN: Final = _own(15, "min", "an accident this soon after it got up: it had just woken")
UNWELL_WITHIN: Final = _own(1440, "min", "an ill dog cannot hold: a sign noted this long before")
LONGER_FROM: Final = _own(
    0.5, "of the interval", "a shorter wait says nothing of how long a dog can hold"
)
SIGN_MISSED_WITHIN: Final = _own(30, "min", "an accident this soon after a sign: it was missed")
EMPTY_WITHIN: Final = _own(30, "min", "an accident this soon after an outing brought nothing")
ALONE_SOON: Final = _own(30, "min", "no source puts a number on soon after leaving")
SLEEP_COUNTED: Final = _own(1440, "min", "a sleep longer ago says nothing of a stool that waits")
NAP_ASLEEP_MOST: Final = _own(180, "min", "a nap logged longer ago than this has likely ended")
DAILY_MARGIN: Final = _own(30, "min", "a daily break this long before the clock of an accident")
DAILY_MOST: Final = _own(180, "min", "a daily break earlier than this is not about that accident")
SOONER_AFTER_MEAL: Final = _published(10, "min", f"{WISCONSIN}: 10 to 20 min after a meal")
STOOL_SOONER: Final = _own(15, "min", "the second break after a meal this much before the stool")
ENZYME_SOAK: Final = _habit(15, "min", "enzyme cleaners work while wet: as the bottle says")
DRY_SEALED: Final = _habit(30, "min", "tiles and vinyl dry within half an hour")
DRY_WOOD: Final = _habit(120, "min", "bare wood dries within a few hours")
DRY_SOFT: Final = _habit(1440, "min", "carpet, padding and cushions take about a day to dry")

# --- The health diary -----------------------------------------------------------------------------

DIARY_DAYS: Final = _own(62, "days", "a diary holds two months: a vet reads no more")
SILENT_DAYS: Final = _own(3, "days", "after more without an entry one looks back from the last one")
DIARY_KNOWN_DAYS: Final = _own(4, "days", "fewer other whole days say nothing of what is usual")
DIARY_LOOKS_BACK: Final = _own(28, "days", "what is usual is read from so many days up to the last")
DIARY_COUNT_APART: Final = _own(2, "a day", "a count this far outside the other days is named")
DIARY_TIME_APART: Final = _own(60, "min", "a time this far outside the other days is named")
DIARY_WATER_APART: Final = _own(20, "mL/kg/day", "an amount this far outside them is named")
STOOLS_BAND: Final = _habit(3, "a day", "adults pass stool 1 to 3 times a day; a soft band only")
WATER_USUAL: Final = _published(
    60, "mL/kg/day", "Cornell Riney Canine Health Center, April 2024: 40 to 60 is usual"
)

# --- Pads -----------------------------------------------------------------------------------------

PAD_STAYS: Final = _own(3, "days", "the pad stays put while the dog settles")
PAD_AT_DOOR: Final = _own(10, "day", "a seventh of the way each day from then on: at the door")
PAD_UNTIL: Final = _own(12, "day", "the last day with a pad: two days of the fortnight without one")
PAD_UNUSED: Final = _own(3, "days", "a pad that nothing went on for so long is not needed")


# --- Health ---------------------------------------------------------------------------------------

BOWL_GAP: Final = _own(60, "min", "a day is measured whole though the bowl was out this long")
BOWL_MOST: Final = _own(2 * 1440, "min", "a bowl that stood longer tells nothing of one day")
SETTLING_DAYS: Final = _own(
    3, "days", "signs of nerves are common at first (PLoS One 2023;18:e0289356): no pattern yet"
)
WATER_MUCH: Final = _published(
    100, "mL/kg/day", "McGrotty and Randell, In Practice 2019, doi 10.1136/inp.l4418"
)
WATER_EARLY: Final = _published(90, "mL/kg/day", "dvm360, 2014-04-01: over 90 is too much already")
WATER_GREY: Final = _published(60, "mL/kg/day", "Elwood Vet: 60 to 100 is a grey zone")
WATER_AGAIN: Final = _own(7, "days", "a second day over the usual this soon is no single hot day")
WATER_STEP: Final = _own(10, "mL/kg/day", "so much more makes a noted warning come back")
AMOUNT_SHARE: Final = _own(0.2, "of the pees", "so many small or large ones are normal at first")
AMOUNT_WEIGHT: Final = _own(40, "pees", "so many pees weigh as much as that guess")
AMOUNT_SHARE_MOST: Final = _own(
    0.25, "of the pees", "a dog's own days count as no worse: it may have been ill from the start"
)
AMOUNT_LEAST: Final = _own(4, "pees", "fewer small or large ones tell nothing")
AMOUNT_DAYS: Final = _own(3, "days", "a great change shows on its day, a smaller one in three")
AMOUNT_CHANCE: Final = _own(
    1e-4,
    "chance",
    "a day as normal as the dog's others has such a share no more often "
    "(made fortnights: under 1 of 100 normal ones at up to 20 % small and 20 % large)",
)
EMPTIED_WITHIN: Final = _own(
    60, "min", "a small pee this soon after a full one is its rest: no sign"
)
UNCALLED_PEES: Final = _own(4, "in 2 h", "pees that no break had called")
UNCALLED_WITHIN: Final = _own(120, "min", "so many of them within two hours")
PEES_BAND: Final = _habit(5, "a day", "adults pee 3 to 5 times a day; a soft band only")
PEES_BAND_SMALL: Final = _habit(8, "a day", "small dogs up to 8 times; a soft band only")
PEES_TIMES: Final = _own(1.5, "times", "of what the dog's own earlier days had in the middle")
PEES_MORE: Final = _own(4, "a day", "and so many more than they had")
PEES_OVER_MOST: Final = _own(3, "a day", "and so many more than on any of them")
PEES_STEP: Final = _own(2, "a day", "so many more make a noted warning come back")
PEES_KNOWN_DAYS: Final = _own(4, "days", "fewer earlier days say nothing of the dog's own count")
NO_PEE: Final = _own(1440, "min", "a whole day without a pee though outings are logged")
NO_PEE_STEP: Final = _own(720, "min", "so much longer makes a noted warning come back")
NO_PEE_OUTINGS: Final = _own(3, "outings", "that brought no pee: the log is kept, none is missing")
NO_PEE_UNWELL_AWAKE: Final = _own(720, "min", "unwell and no pee so long awake: an emergency")
NO_PEE_UNWELL: Final = _own(960, "min", "the same, a night counted in")
UNWELL_SIGNS: Final = _own(2, "in 24 h", "signs of illness, or listless alone: unwell")
SIGNS_NO_NERVES: Final = _own(3, "in 24 h", "signs of illness: more than nerves, on any day")
STOOLS_MANY: Final = _own(6, "in 24 h", "stools, twice what an adult passes on a full day")
NO_STOOL: Final = _own(3, "days", "without a stool though the dog eats: worth an eye")
LOG_STOPPED: Final = _own(720, "min", "a longer silence is a gap in the log: count anew after it")
LASTS: Final = _own(1440, "min", "loose stool, off food or listless for this long: a vet soon")
TOGETHER: Final = _own(1440, "min", "two signs this close count together")
VOMITING_AGAIN: Final = _own(2, "in 24 h", "vomiting this often: a vet soon")
RELAPSE_CLEAR_DAYS: Final = _own(3, "days", "clear in a row before it: that was no bad day")
RELAPSE_ACCIDENTS: Final = _own(3, "in 48 h", "so many after clear days are a sudden relapse")
RELAPSE_WITHIN: Final = _own(2880, "min", "the accidents of a sudden relapse")
MARKINGS: Final = _own(3, "in 7 days", "small and upright, or said to be marking")
GREETINGS: Final = _own(2, "in 7 days", "at a greeting")
NIGHTS_WET: Final = _own(3, "in 7 nights", "nights with an accident make a pattern")
ALONE_ACCIDENTS: Final = _own(2, "in 7 days", "alone and soon after leaving, none in company")
PAD_PEES: Final = _own(4, "in 3 days", "on the pad, none outside")
PAD_OUTINGS: Final = _own(6, "in 3 days", "outings outside that all brought no pee")
PAD_WITHIN: Final = _own(3, "days", "a dog that has gone to the pad for so long has a habit")
HABIT_WITHIN: Final = _own(7, "days", "what happens this often in a week is a pattern")
SIGN_STANDS: Final = _own(7, "days", "a warning for the vet stands this long after its last sign")
UNEASE_STANDS: Final = _own(2, "days", "one that often passes by itself stands this long")
WARNING_LOOKS_BACK: Final = _own(14, "days", "a week of a pattern, and the week that it stands")

# --- Patterns -------------------------------------------------------------------------------------

PATTERN_LEVEL: Final = _own(0.05, "chance", "a log with nothing to find shows something this often")
PATTERN_DAYS: Final = _own(56, "days", "eight weeks back: retraining an adult takes six to eight")
PATTERN_MOST: Final = _own(366, "days", "a longer look back is of no use: the dog has changed")
PATTERN_KNOWN: Final = _own(60, "min", "an accident's time is known if this much is open at most")
SIGN_LEADS: Final = _own(30, "min", "what comes this soon after a sign is what it announced")
SIGNS_TO_TELL: Final = _own(3, "signs", "fewer of a kind tell nothing")
WAITS_TO_TELL: Final = _own(5, "waits", "fewer have no middle worth telling")
BREAKS_TO_TELL: Final = _own(10, "breaks", "fewer say nothing of the punctuality")
ROUTINE_TO_TELL: Final = _own(5, "days", "fewer say nothing of how regular a time is")
ROUTINE_NEAR: Final = _own(15, "min", "this close to its usual time, a meal is on time")
DRIFT_LEAST: Final = _own(30, "min", "a smaller shift over all the days is not worth a word")


# --- After two weeks ------------------------------------------------------------------------------

AHIMSA: Final = "Ahimsa Rescue Foundation"
LEARN: Final = (
    "Learn, Radosta and Pike, J Vet Behav 2020, as carried by companionanimalpsychology.com"
)
CLEAN_MONTHS: Final = _published(2, "months", f"{LEARN}: only approved places for two months")
RETRAIN_WEEKS_LEAST: Final = _published(
    6, "weeks", f"{AHIMSA}: retraining an adult takes 6 to 8 weeks on a strict plan"
)
RETRAIN_WEEKS_MOST: Final = _published(8, "weeks", f"{AHIMSA}: the longer end of 6 to 8 weeks")
TRAINED_SMALL: Final = _published(0.67, "of dogs", f"{LEARN}: owners of dogs up to 9 kg")
TRAINED_LARGE: Final = _published(0.95, "of dogs", f"{LEARN}: owners of dogs from 18 kg")
TRAINED_SMALL_KG: Final = _published(9, "kg", f"{LEARN}: the small dogs of that survey")
TRAINED_LARGE_KG: Final = _published(18, "kg", f"{LEARN}: the large dogs of that survey")
FREEDOM_SECOND: Final = _published(
    20, "min", f"{ASPCA}: 15 to 20 min of freedom after a success, then grown over weeks"
)
FREEDOM_GROWS: Final = _own(2, "times", "a clear week doubles the freedom after a success")
BY_HAND_FROM_WEEK: Final = _own(5, "weeks", "from then on the household may go past the rule's top")
CLEAR_DAYS_THAT_WORKED: Final = _own(2, "days", "clear in a row: that interval has worked")
NEW_ROUND_ACCIDENTS: Final = _own(3, "in a week", "so many, and starting again is simpler")
HALF_TO_COMPARE: Final = _own(3, "days", "shorter halves of a review are not compared")
CHANCE_TO_SAY_SO: Final = _own(0.05, "chance", "what chance makes less often is called a change")
CALM_FOR: Final = _own(60, "min", "after two weeks the reminder stands for the first hour of a day")
SETUP_ASKED_FOR: Final = _own(2 * 1440, "min", "the rest of the set-up is an open job so long")
FIRST_EVENING_FROM: Final = _own(300, "min", "so long before bed the first night is told of")
OFFERED_FROM: Final = _own(13, "days", "the weeks ahead are offered from this day on")


def all_figures() -> dict[str, Figure]:
    """Return every figure of this module by its name, for the papers and the tests."""
    return {name: value for name, value in globals().items() if isinstance(value, Figure)}
