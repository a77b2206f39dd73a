"""Lesson 60: what to carry."""

from __future__ import annotations

from lowside import carry

from . import l60_numbers, l60_tasks
from .card import JobCard
from .model import MEMORY, OURS, PRACTICE, READ, Lesson, Prediction, Source

CALL = (
    "You take over a route: {hall} and its neighbours, {boxes} boxes with expansion valves. In a "
    "year they call {calls} times for parts of a valve, and behind those calls stand {food} of "
    "food. Some boxes call often, others hardly ever.\n\n"
    "Behind the seat of the van stands a case with {places} places, one part to a place. Your "
    "predecessor filled it tidily: every conventional cartridge there is, {row} of them in a row "
    "from the smallest to the largest, one body and one power element. It looks complete.\n\n"
    "The shop gives you an evening to fill it anew. Nothing else changes: the same {places} "
    "places. Each call that the case cannot answer is a second trip, and a box that warms up "
    "meanwhile."
)

NOTES = {
    "row": (
        "What the tidy case could do: {row_calls} of {calls} calls, {row_share}. It has every "
        "port, and for nearly every box the wrong bulb, or a body that does not join its pipe. The "
        "best {places} parts cover {best_calls}, which is {best_share}. Among them are only "
        "{cartridges} cartridges: {ports}. A port that is a little larger than it need be still "
        "holds most boxes; a bulb with the wrong refrigerant holds none. With its {bodies} bodies "
        "and {elements} power elements this case makes {valves} different valves."
    ),
    "next": (
        "Place {next} would go to {next_part}, and buy {next_gain} of all calls. Is that much? "
        "That is for you to say: one place in the van, one part on the shelf, against that many "
        "second trips a year."
    ),
    "swap": (
        "From {swap_before} to {swap_after} places the best case does not simply get one part "
        "more. In: {swap_in}. Out: {swap_out}. Each of the new parts alone would open no box; "
        "together they open a whole group, {swap_gain} of all calls more for one place.\n\n"
        "That is why filling a case build by build, and never taking anything back, is not the "
        "best: it would take {slow} parts to reach what {full} do."
    ),
    "food": (
        "Which calls matter more? Count every call alike, and {places} places cover {best_share} "
        "of the calls and {calls_food} of the food. Count a call by the food behind it, and the "
        "best case covers {food_calls} of the calls and {food_food} of the food. Neither is "
        "wrong. It is a decision, and somebody should take it with open eyes: perhaps the one who "
        "pays for the food."
    ),
    "left": (
        "With {full} parts, {full_ports} of them cartridges, the case covers all that this kit "
        "can: {full_share} of the calls. What is left is “{nothing}”: at {nothing_load} even the "
        "largest port keeps nothing in hand on the hottest day. For that box no case helps. Order "
        "its valve before it fails, and leave it with the box."
    ),
    "propane": (
        "Propane once more. For the box “{propane}” one model of the jet would fit "
        "{propane_first}; another {propane_second}. Nobody has measured it here. A call of such a "
        "box counts as covered only if the case can serve both models; {propane_both} does that "
        "alone. And the case carries parts only. The cylinder, the torch and the meter have rules "
        "of their own, which stand on the card."
    ),
}

PREDICTIONS = (
    Prediction(
        key="row",
        question=(
            "The case holds every conventional cartridge, one body (small, flare) and one power "
            "element (R404A, liquid charge, coolers). How many of the calls does it cover?"
        ),
        options={
            "little": "fewer than one in four",
            "some": "between one in four and half",
            "most": "more than half",
        },
        outcome=l60_numbers.row_covers,
        because=(
            "It covers {row_share}. The best {places} parts cover {best_share} with "
            "{cartridges} cartridges."
        ),
    ),
    Prediction(
        key="kind",
        question="In the best case of {places} parts, which kind of part takes most places?",
        options={
            "body": "bodies: flare and braze, small and large",
            "cartridge": "cartridges: there are the most sizes of them",
            "element": "power elements: there are many refrigerants",
        },
        outcome=l60_numbers.most_places,
        because=(
            "{bodies} bodies, {cartridges} cartridges and {elements} power elements. One port "
            "holds boxes of many kinds; a bulb serves its own refrigerant."
        ),
    ),
    Prediction(
        key="swap",
        question=(
            "You have found the best case for a number of places and get one place more. Is the "
            "new best case the old one with one more part?"
        ),
        options={
            "adds": "yes, always: what was best stays in",
            "swaps": "no, sometimes parts have to go for others",
        },
        outcome=l60_numbers.next_place,
        because="From {swap_before} to {swap_after} places. Out: {swap_out}. In: {swap_in}.",
    ),
)

CARD = JobCard(
    title="Fill the case",
    tools=(
        "Last year's job sheets; nameplates and tags of the route",
        "The list of the kit; this page and your route as a table",
    ),
    cautions=(
        "The case carries parts. Cylinders travel upright, tied, capped, shaded and ventilated, as "
        "local rules say; never in a closed hot van.",
        "Propane and other flammables: no lighter, no loose battery, no sparking tool beside the "
        "cylinder. A meter made for flammable gas rides in front and is switched on before the "
        "doors open.",
        "Only parts approved for the refrigerant and its pressures, kept in their bags, dry.",
    ),
    steps=(
        "Write down every box: refrigerant, load, air, connection, pipe, heads, last calls.",
        "Count calls for valve parts a year; estimate the food.",
        "Decide what counts: calls, or food, or both. Ask who pays.",
        "Let the page fill the places you have.",
        "Look at the next place: what does it buy, which boxes?",
        "Look at the last places: what would you miss without them?",
        "Read what is not covered, and why. Parts missing: order them, or name another van.",
        "Nothing fits: keep that box's own valve with the box.",
        "Bags with plain names: port in millimetres, refrigerant, charge, connection.",
        "Seals and caps for every body; a spare strainer.",
        "Used a part? Replace it the same day; the numbers count on it.",
        "Every quarter: count calls again, fill again.",
    ),
    notice=carry.notice(),
)

LESSON = Lesson(
    number="60",
    title="What to carry",
    goals=(
        "say what a place in your case is worth, in calls a year",
        "tell why bodies and power elements matter more than a full row of ports",
        "find the best parts for a number of places, for frequent calls or for food at risk",
        "name the boxes that no part in the case will help, and what to do for them",
    ),
    minutes=40,
    before=("24",),
    cautions=(
        "On this page nothing can hurt you. A van can: cylinders travel upright, tied, capped and "
        "ventilated, as local rules say, and never stay in a closed van in the sun.",
        "Propane and other flammable refrigerants: keep sparks and flames away from the cylinder, "
        "and have a meter made for flammable gas at hand before you open the doors.",
        "Carry parts only that are approved for the refrigerant and its pressures. Where the "
        "nameplate names the valve, that is the valve to carry.",
    ),
    call=CALL,
    notes=NOTES,
    predictions=PREDICTIONS,
    try_this=(
        "Move the places up one by one from three. Where does a place buy most? Watch which boxes "
        "turn full.",
        "Let a call count by the food at risk. Which boxes come in, which go?",
        "Leave twenty places and move the money down. What does the case give up first?",
    ),
    tasks=l60_tasks.ALL,
    card=CARD,
    sources=(
        Source(
            "Which builds hold a box through its year",
            "lowside.kit, lesson 24, checked in tests/test_kit.py",
            OURS,
        ),
        Source(
            "The best case",
            "maximum coverage as an integer programme, solved by HiGHS through "
            "scipy.optimize.milp; checked against brute force in tests/test_carry.py",
            OURS,
        ),
        Source(
            "Greedy filling reaches at least 1 - 1/e of the best where only one kind of part is "
            "free",
            "Nemhauser, Wolsey, Fisher 1978",
            MEMORY,
        ),
        Source("Route, calls, food and prices", "data/route.csv, data/carry.toml, invented", OURS),
        Source(
            "One kit of ports covers a quarter ton to 3 tons of R404A or 4 tons of R448A",
            "what is taught and done; checked in tests/test_carry.py",
            PRACTICE,
        ),
        Source(
            "A distributor loses one to two bar",
            "Hundy, Trott, Welch, Refrigeration and Air-Conditioning",
            READ,
        ),
        Source(
            "Cells of a table that begin with = + - @ are made harmless",
            "OWASP, CSV Injection",
            MEMORY,
        ),
        Source(
            "Cylinders upright, tied, capped, ventilated; no sparks; a meter at hand",
            "what is taught and done; local rules come first",
            PRACTICE,
        ),
    ),
    leaves_out=(
        "Two calls on one day that want the same part: the case is filled up before the next call.",
        "Why a call comes. A call is counted as one that wants a whole valve, or parts of it, that "
        "fit; often a power element alone would do, and then fewer parts cover more.",
        "How sure the calls are. They are last year's; a box that failed twice by chance counts "
        "twice here.",
        "Size, weight and life of a part; a place is a place.",
        "Seals, driers, filler and everything else that a van needs.",
        "A coil's own pressure drop and the spring's setting are assumed alike for all boxes of a "
        "kind (lesson 24 lets you change them). A border case may fall either way.",
    ),
    next="90",
    quantities=l60_numbers.quantities,
)
