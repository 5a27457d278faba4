"""The three stories of the sample logs: the dogs, their people, and what is told by hand.

Dogs, people, places and words are invented.
"""

from __future__ import annotations

import shlex
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any


def minute_of(clock: str) -> int:
    """Return the minutes from midnight to a clock time such as ``07:30``."""
    hours, minutes = clock.split(":")
    return int(hours) * 60 + int(minutes)


@dataclass(frozen=True)
class Moment:
    """Something that happens at a ``minute`` of its day."""

    kind: str
    minute: int
    details: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True)
class Story:
    """One household: ``begins`` and ``ends`` are minutes since the midnight of day 1.

    ``seed`` draws what is not told; ``intervals`` is the household's interval on each day;
    ``ordinary`` how many of each kind a full day has; ``lateness`` the share of late breaks;
    ``digestion`` minutes from a meal to a stool; ``night_breaks`` the clock of a break in the night
    that follows a day. ``asides`` are entries that change nothing of what happens: a water bowl, a
    change of the routine after the last accident, a warning noted.
    """

    name: str
    seed: int
    answers: Mapping[str, str]
    people: tuple[str, ...]
    begins: int
    ends: int
    intervals: tuple[int, ...]
    ordinary: Mapping[str, float]
    lateness: float
    digestion: float
    drinks: tuple[int, ...]
    signs: tuple[str, ...]
    places: tuple[str, ...]
    duty: tuple[tuple[str, str], ...]
    night_breaks: Mapping[int, str]
    night_note: str
    notes: tuple[str, ...]
    remarks: tuple[str, ...]
    stool_remarks: tuple[str, ...]
    script: Mapping[int, tuple[Moment, ...]]
    asides: Mapping[int, tuple[Moment, ...]] = field(default_factory=dict)

    @property
    def days(self) -> int:
        """How many days it has, the last one not whole."""
        return self.ends // 1440 + 1


def _end(day: int, clock: str) -> int:
    return (day - 1) * 1440 + minute_of(clock)


def _script(text: str) -> dict[int, tuple[Moment, ...]]:
    """Read lines such as ``3 14:20 pee-inside place=hall found=no``: day, clock, kind, details."""
    days: dict[int, list[Moment]] = {}
    for line in text.strip().splitlines():
        day, clock, kind, *details = shlex.split(line)
        given = dict(detail.split("=", 1) for detail in details)
        days.setdefault(int(day), []).append(Moment(kind, minute_of(clock), given))
    return {day: tuple(moments) for day, moments in days.items()}


SIGNS = ("door", "sniffing", "circling", "pacing", "whining")

# --- A small prone dog in a rocky first week ------------------------------------------------------

FERN = Story(
    name="fern",
    seed=39,
    answers={
        "name": "Fern", "weight": "5.4", "age": "adult", "sex": "female", "prone": "yes",
        "history": "home", "vet": "booked", "arrived": "2026-04-20 10:30", "zone": "Europe/Oslo",
        "people": "Maja, Eirik",
        "numbers": "Vet 01632 960011; Night vet 01632 960012; Maja 01632 960013; "
        "Eirik 01632 960014",
        "spot": "grass by the birch", "cue": "be quick", "pads": "yes",
        "up": "06:30", "bed": "22:30", "meals": "07:00,17:30",
    },
    people=("Maja", "Eirik"),
    begins=_end(1, "10:30"),
    ends=_end(14, "15:10"),
    intervals=(90, 75, 60, 60, 60, 60, 60, 60, 60, 75, 75, 75, 90, 105),
    ordinary={"water": 2.2, "play": 1.5, "nap": 4.0, "sign": 2.0, "note": 1.3},
    lateness=0.05,
    digestion=60,
    drinks=(40, 50, 60, 80),
    signs=SIGNS,
    places=("birch", "hedge", "back step", "far corner"),
    duty=(("08:10", "Eirik"), ("16:30", "Maja")),
    night_breaks={1: "03:40", 2: "04:05", 3: "04:20", 4: "04:15", 5: "04:25", 6: "04:30",
                  7: "04:20"},
    night_note="whined once, out on the lead, no talking, straight back to bed",
    notes=(
        "hides behind the sofa when the lift goes, left her to come out by herself",
        "second gate fitted, the bedroom is shut off now",
        "slept on Maja's feet for ten minutes",
        "enzyme cleaner is running low, buy two",
        "heard a bus and forgot why we were outside",
        "tethered to the table leg with her blanket, calm",
        "walked the hall on the lead before letting her loose",
        "took a treat from Eirik's hand for the first time",
        "drinks more after the dry food, soak it tomorrow",
        "vacuum cleaner: moved her to the other room first",
        "stays close now, no need of the gate today",
        "new blanket in the crate, went in on her own",
        "rain: she wants the umbrella over her too",
        "two minutes alone in the kitchen, quiet",
        "neighbour's cat on the wall, stood and stared",
        "moved the pad nearer to the back door",
        "tail up on the way home",
        "chewed the mat, swapped it for a carrot",
        "praise works best in a low voice",
        "knows the birch now, pulls towards it",
        "set an alarm for the break after meals, we keep missing it",
        "five minutes alone, lay down by the door",
        "rolled over for a belly rub",
        "long line on the grass, came when called twice",
        "sleeps deeper than last week",
        "asked to go into her crate",
        "Eirik home late tomorrow, Maja takes the evening",
        "ten minutes alone with the radio on, fine",
    ),
    remarks=(
        "praised on the spot", "took four minutes of sniffing first", "cue word, then at once",
        "in the rain, quick", "a treat and a party", "on the way back only",
        "carried her down, she was sleepy", "dog next door barked, waited it out",
        "first time without the lead pulling", "under the hedge",
        "looked at me afterwards for her treat", "wind, did not like it", "a long one",
        "went before I said anything", "stood still for three minutes",
        "happy little run afterwards", "treat at the spot, not at the door",
        "needed the quiet corner", "somebody walked past, started over",
    ),
    stool_remarks=(
        "good firm stool", "small one", "a little soft", "took three rounds of the birch",
        "firm again", "quick this time", "normal",
    ),
    script=_script("""
        1 10:34 pee note="first thing, straight from the car to the birch"
        1 11:05 note note="home! looked into every room on the lead"
        1 12:20 meal note="half a portion, eats shyly"
        1 13:52 pee-inside place="hall rug" found=no alone=no amount=usual surface=carpet \
            note="interrupted gently, carried out"
        1 20:40 pee-inside place="kitchen" found=yes dry=20:05 alone=no surface=sealed
        2 09:35 late minutes=38
        2 11:48 pee-inside place="sofa corner" found=no alone=no
        2 14:10 right of=outing kind=both
        2 18:20 poop-inside place="bedroom" found=yes dry=17:55 alone=no late=12
        2 19:45 play
        3 06:45 pee-inside place="by the crate" found=yes alone=no note="some time in the night"
        3 10:15 left
        3 10:27 back note="only the bins, she waited at the door"
        3 12:55 pee-inside place="kitchen: by the table" found=no alone=no surface=sealed
        3 16:05 twice
        3 19:10 late minutes=30
        4 08:50 interval minutes=60 note="too many wet floors, every hour for a while"
        4 11:25 pad place="back door"
        4 13:15 pee place=pad note="pouring rain, she refused the step"
        4 15:40 pee-inside place="hall rug" found=no alone=no cause=greeting amount=small
        4 16:20 right of=accident note="the parcel man: she wagged and leaked"
        5 10:20 vet note="examined, sample was clear, nothing found; ask again if it goes on"
        5 14:25 poop-inside place="living room" found=no alone=no
        5 18:50 mistake kind=poop
        6 11:10 left
        6 11:45 back
        6 11:46 pee-inside place="by the front door" found=yes dry=11:10 alone=yes
        6 15:05 health note="one soft stool, ate and drank as usual; watch it, ring the vet if more"
        6 17:02 right of=outing earlier=6
        7 08:05 pad place="back door"
        7 12:34 pee-inside place="kitchen: table leg" found=no alone=no \
            cause=marking amount=small upright=yes surface=wood
        7 16:15 right of=outing note="the long way round the birch"
        7 20:05 late minutes=27
        8 10:30 left
        8 10:50 back
        8 13:30 right of=outing kind=pee
        9 10:05 left
        9 10:35 back
        9 14:00 visit by=Maja note="Maja's sister, sat on the floor, no fuss"
        10 11:00 left
        10 11:40 back
        10 16:48 pee-inside place="living room: her basket" found=no alone=no cause=leak \
            surface=fabric note="asleep"
        11 09:50 left
        11 10:30 back
        11 18:40 pad place="by the back door, outside the sill"
        11 15:10 twice
        12 10:20 left
        12 11:15 back
        12 19:20 right of=outing place="birch"
        13 10:40 left
        13 11:35 back
        13 17:05 health note="bright, stool firm for a week now"
        14 09:15 left
        14 09:55 back
        14 13:40 pee note="quick one between two showers"
        14 14:18 poop-inside place="the bedroom door" found=yes alone=no open=yes
        14 14:25 note note="the gate was open, our slip; shut it now"
        14 15:01 play note="tug with the old sock"
    """),
    asides=_script("""
        2 20:30 routine by=Eirik measure=after-meal minutes=30
        3 13:20 routine by=Maja measure=watch
        10 20:10 noted by=Maja about=wet-bed note="rang the vet: bring her in if it happens again"
        11 08:20 bowl by=Eirik ml=500
        12 08:25 bowl by=Eirik ml=500 rest=310
        13 08:10 bowl by=Maja ml=500 rest=290
    """),
)  # fmt: skip

# --- A large dog from kennels, day 13 -------------------------------------------------------------

ODIN = Story(
    name="odin",
    seed=61,
    answers={
        "name": "Odin", "weight": "31", "age": "adult", "sex": "male", "history": "kennel",
        "vet": "done", "arrived": "2026-05-09 10:00", "zone": "America/New_York",
        "people": "Rosa, Theo",
        "numbers": "Vet +1 212 555 0121; Emergency vet +1 212 555 0122; Mina +1 212 555 0123; "
        "Rosa +1 212 555 0124",
        "spot": "gravel strip behind the shed", "cue": "go on then",
        "up": "06:15", "bed": "22:30", "meals": "06:45,17:30", "workdays": "mon-fri",
        "leave": "08:45", "return": "14:45", "absent-from": "5",
        "helpers": "Mina 11:00-14:00 9.50 mon-fri 20min notice 24h",
    },
    people=("Rosa", "Theo"),
    begins=_end(1, "10:00"),
    ends=_end(13, "16:40"),
    intervals=(120, 120, 90, 90, 120, 120, 150, 150, 150, 150, 180, 180, 210),
    ordinary={"water": 2.7, "play": 1.7, "nap": 5.4, "sign": 2.5, "note": 4.0},
    lateness=0.04,
    digestion=90,
    drinks=(200, 250, 300, 400),
    signs=SIGNS,
    places=("gravel", "shed", "front verge", "long grass"),
    duty=(("07:40", "Theo"), ("15:20", "Rosa"), ("19:30", "Theo")),
    night_breaks={2: "03:35"},
    night_note="paced and whined, out at once, slept again",
    notes=(
        "stares at the stairs, has never seen any",
        "television off: the voices worried him",
        "lies on the cool tiles by the door",
        "carried the rope toy from room to room",
        "leaned on Theo while he cooked",
        "washing machine: went to look, came back proud",
        "first deep sleep, snored",
        "learns the back door: sits and waits",
        "bowl moved out of the draught",
        "quiet at the window when the bus went by",
        "long line in the yard, came back twice for a treat",
        "crate door stays open, he chose the mat",
        "up the stairs and down again, slowly",
        "brushed for five minutes, liked it",
        "garbage truck: one bark, then looked at us",
        "filled the treat jar by the back door",
        "met the neighbour over the fence, polite",
        "took himself off to his mat",
        "ate from the slow bowl, twelve minutes",
        "gate to the landing stays shut until he is steady",
        "slept through a clap of thunder",
        "two steps in the hall, turned and asked for the door",
        "rolled in the grass, towel needed",
        "knows the sound of the lead",
        "stretched, yawned, lay down again",
        "found the sunny patch behind the shed",
        "wants to be where we are, that is all",
        "waited at the curb without being asked",
        "chewed his own bone, not the chair",
        "gave the ball back for the first time",
        "shook himself dry on the porch, thank you",
        "looks at the door when a car stops",
        "settles faster after a walk",
        "one paw on the sofa, thought better of it",
        "hold was long and easy today",
        "let him choose the way round the block",
        "sighed and slept under the desk",
        "good with the paper boy",
        "floor checked in every room, dry",
        "moved his mat beside ours for the night",
        "a whole hour of quiet chewing",
        "tail knocked over the plant, no harm done",
        "greeted the postman sitting down",
        "slept in the car",
        "drank slowly for once",
        "he hums when he is scratched",
        "rain, took the short round",
        "Rosa's mother rang, he listened",
        "followed a beetle across the yard",
        "brought Theo his shoe, unchewed",
    ),
    remarks=(
        "praised on the spot", "straight to the gravel", "walked three rounds first",
        "cue word worked", "concrete first, as in the kennels; the gravel helps", "a long one",
        "needed time alone at the end of the line", "went on the cue", "a treat at the spot",
        "bird, then business", "front verge because of the mower", "waited for the spot",
        "quick, wanted to be back in", "looked round for the praise", "asked at the door himself",
        "no hurry at all", "easy",
    ),
    stool_remarks=(
        "firm", "large and normal", "after a long walk along the fence", "on grass, a first!",
        "normal", "needed quiet and a loose lead",
    ),
    script=_script("""
        1 10:06 pee note="on the gravel before the front door was opened"
        1 10:25 note note="walked through the house on the lead, one room at a time"
        1 11:20 meal note="half a portion, all gone"
        1 12:30 late minutes=40
        1 14:52 pee-inside place="laundry" found=no alone=no amount=large surface=sealed \
            note="concrete floor, like his run"
        1 16:30 right of=outing place="gravel"
        2 09:20 poop-inside place="hallway" found=yes dry=08:50 alone=no
        2 11:00 twice
        2 16:10 note note="more walking before we come in: he holds back on the lead"
        3 10:30 left
        3 10:50 back
        3 14:20 late minutes=30
        4 09:40 left
        4 10:40 back
        4 15:15 right of=outing kind=both
        5 08:45 left
        5 11:45 visit by=Mina note="dry, water topped up"
        5 14:45 back
        6 08:46 left
        6 11:50 visit by=Mina note="dry, slow walk to the shed"
        6 14:40 back
        6 19:05 mistake kind=meal
        7 08:44 left
        7 12:05 visit by=Mina note="he met me with the rope"
        7 14:50 back
        8 09:40 note note="day off for everybody, long sleep"
        8 19:12 pee-inside place="landing" found=no alone=no cause=marking amount=small \
            upright=yes surface=fabric note="on a visitor's bag"
        9 11:20 health note="scratched behind one ear, skin looks fine; ask at the next check"
        9 15:45 right of=outing earlier=8
        10 08:45 left
        10 12:00 visit by=Mina note="dry again, good boy"
        10 14:42 back
        10 19:40 late minutes=26
        11 08:47 left
        11 12:10 visit by=Mina note="asleep when I came"
        11 14:48 back
        12 08:45 left
        12 12:15 visit by=Mina note="dry; he carried the lead himself"
        12 14:44 back
        12 18:30 twice
        13 07:02 water
        13 08:43 left
        13 12:05 visit by=Mina note="dry, ten minutes in the sun"
        13 14:41 back
        13 14:43 both place="gravel" note="wagged all the way to the shed"
        13 15:12 nap minutes=26
        13 15:48 duty by=Rosa
        13 15:58 note note="slow chew on his mat beside the desk"
        13 16:34 note note="neighbour's child at the fence: he sat for her"
    """),
    asides=_script("""
        8 19:40 routine by=Rosa measure=block
        9 09:10 bowl by=Theo ml=2000
        10 08:05 bowl by=Theo ml=2000 rest=1150
        11 08:10 bowl by=Rosa ml=2000 rest=1050
    """),
)  # fmt: skip

# --- The first afternoon of day 1 -----------------------------------------------------------------

WREN = Story(
    name="wren",
    seed=59,
    answers={
        "name": "Wren", "weight": "14", "age": "adult", "sex": "female", "vet": "booked",
        "arrived": "2026-06-06 12:00", "zone": "Europe/London", "people": "Priya, Tom",
        "numbers": "Vet 020 7946 0031; Night vet 020 7946 0032; Priya 020 7946 0033",
        "spot": "corner by the water butt", "cue": "busy", "up": "06:45", "bed": "22:30",
        "meals": "07:15,18:00",
    },
    people=("Priya", "Tom"),
    begins=_end(1, "12:00"),
    ends=_end(1, "15:46"),
    intervals=(120,),
    ordinary={},
    lateness=0,
    digestion=75,
    drinks=(120,),
    signs=SIGNS,
    places=("water butt",),
    duty=(),
    night_breaks={},
    night_note="",
    notes=(),
    remarks=("praised on the spot", "took her time", "cue word said quietly"),
    stool_remarks=("normal, praised",),
    script=_script("""
        1 12:04 pee note="out of the car and straight to the corner, praised"
        1 12:15 note note="shown one room, on the lead"
        1 12:31 water
        1 12:48 meal note="a small portion, ate half"
        1 13:20 duty by=Tom
        1 13:35 nap minutes=48
        1 15:20 sign sign=sniffing
        1 15:36 water
        1 15:41 note note="Priya is buying the gate, Tom stays with Wren"
    """),
)  # fmt: skip

STORIES = (FERN, ODIN, WREN)
