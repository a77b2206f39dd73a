"""Lesson 24: build the valve."""

from __future__ import annotations

from lowside import kit

from . import hall, l24_numbers, l24_tasks
from .card import JobCard
from .model import MEMORY, OURS, PRACTICE, READ, Lesson, Prediction, Source

CALL = (
    "{stall}: the {what} with {holds}, {refrigerant}. Somebody brazed at its expansion valve "
    "without a wet rag. The body is scorched, the power element is dead, and the tag burned off. "
    "The fish went to a neighbour; tonight the box has to run.\n\n"
    "The valve is scrap. But the van carries a case of parts: bodies, cartridges, power elements. "
    "Put together right they make the valve that this box needs, and put together wrong they make "
    "one that starves in winter, hunts in spring or overloads the compressor after every wash-"
    "down.\n\n"
    "So before you open the case you ask what the valve will have to do in a year. The load sheet "
    "says {load} in the worst hour, at {box_air} in the box; the coil boils at {boils} then. The "
    "compressor turns down to {least_share} of its speed, and it may not run for long with a coil "
    "that boils above {limit}. After the weekly wash-down the box starts at {washed}. The pipes "
    "are to be brazed. Below stand the gauges of the log at full load: the head on two days, "
    "and three pressures behind the valve on the hottest."
)

READINGS = (
    ("Head, hottest day", "{head_hot}"),
    ("Head, coldest day", "{head_cold}"),
    ("Behind the valve", "{behind_valve}"),
    ("Behind the distributor", "{coil_start}"),
    ("End of the coil", "{coil_end}"),
)

NOTES = {
    "marks": (
        "What “meets a corner” means here, in numbers. At full load the box gets at least "
        "{carries} of the design load. On the hottest day the pin stands at no more than "
        "{most_lift} of its travel, so that a strainer may clog a little. Nowhere, except in a "
        "pull-down, does it come closer to its seat than {least_lift}, and nowhere does the "
        "superheat fall below {least_superheat}. The flow answers the bulb "
        "no more than {hunts} times as strongly as with a port made to measure. The head alone "
        "moves the superheat by no more than {swing}. These marks are our own: sensible, and no "
        "laws."
    ),
    "smaller": (
        "Look at {smaller}, one row above the frame. On the coldest day it feeds {smaller_cold} of "
        "the design load, more than enough. It fails on the hottest day, and not because it is "
        "short: its pin stands at {smaller_lift} of its travel, and a strainer that clogs a little "
        "would take the rest. With {chosen} the pin stands at {chosen_lift}."
    ),
    "charge": (
        "After a wash-down the box stands at {washed}, and the compressor meets a warm coil. With "
        "a liquid charge and the port of the hall's plan, {planned}, the coil would start to boil "
        "at {liquid_pull}; with {chosen} at {liquid_chosen}, since the smaller port itself holds "
        "the flow back. The compressor may run at no more than {limit}. With the gas charge it "
        "starts at {gas_pull}.\n\n"
        "How: above its limit the bulb has no liquid left to boil. It gets warmer and hardly "
        "pushes any harder, while the evaporator's pressure closes the valve. The price: what is "
        "left of the charge sits wherever it is coldest. Is that the power element on the valve "
        "and not the bulb, the valve shuts. So the power element stays in the warm."
    ),
    "planned": (
        "The plan of the hall says {planned}, balanced. Was that wrong? No: it meets every corner "
        "too, at {planned_lift} of its travel on the hottest day, and the flow answers the bulb "
        "{planned_times} times as strongly as with {chosen}. Several builds hold this box. The kit "
        "takes the smallest, since it is the calmest of those that reach far enough."
    ),
    "strainer": (
        "How fine is a pin? At full load on the hottest day the ring between pin and seat is "
        "{ring_full} wide, at the least load {ring_least}. The strainer is mesh No. {mesh}, with "
        "openings of {opening}. What passes the strainer can hang in the ring. The strainer keeps "
        "chips and solder out; the fine dirt is the drier's business."
    ),
    "propane": (
        "The same case, other refrigerant: the {converted_what} has {converted} for "
        "{converted_refrigerant}. Which port would give the same cooling with propane? One model "
        "of the jet says {propane_low}, another {propane_high}. Nobody has measured it here, so "
        "the answer is that band, from {propane_sizes} of the kit; what the superheat says after "
        "the first start decides. A box is never converted by its port alone: compressor, oil, "
        "charge limit and everything that can spark have to be made for propane, and local code "
        "has to allow it at all."
    ),
}

PREDICTIONS = (
    Prediction(
        key="corner",
        question=(
            "You go down the sizes of the kit, one by one. Which corner of the year is the first "
            "to forbid a smaller port?"
        ),
        options={
            "hot, full load": "the hottest day at full load: the box needs most",
            "cold, full load": "the coldest day at full load: the head pushes least",
            "pull-down": "the pull-down after a wash-down",
        },
        outcome=l24_numbers.decides,
        because=(
            "With {smaller} the pin stands at {smaller_lift} of its travel on the hottest day at "
            "full load: too little in hand. On the coldest day the head pushes less, but the "
            "liquid comes colder and the compressor takes more in: there that port still feeds "
            "{smaller_cold} of the design load."
        ),
    ),
    Prediction(
        key="charge",
        question=(
            "After a wash-down the box stands at {washed}. With a liquid charge in the bulb and "
            "the {planned} port of the plan, where does the coil boil when the compressor starts? "
            "It may run at no more than {limit}."
        ),
        options={
            "below": "colder than that: all is well",
            "about": "above it, by up to {well_above}",
            "above": "above it by more than {well_above}",
        },
        outcome=l24_numbers.pulls_down,
        because=(
            "It would boil at {liquid_pull}. A gas charge runs dry and holds it at {gas_pull}."
        ),
    ),
    Prediction(
        key="ring",
        question=(
            "Mesh No. {mesh}, a fine strainer, stands before the port. At the least load of the "
            "hottest day the ring between pin and seat is …"
        ),
        options={
            "wider": "wider than an opening of the strainer",
            "alike": "about as wide",
            "narrower": "narrower than an opening of the strainer",
        },
        outcome=l24_numbers.ring_against_mesh,
        because="The ring is {ring_least} wide, an opening of the strainer {opening}.",
    ),
)

CARD = JobCard(
    title="Choose and build an expansion valve",
    tools=(
        "Load sheet, nameplate, log of the heads, pressure-temperature card",
        "Two gauges and a clamp; the case of parts, new seals, tag and pen",
    ),
    cautions=(
        "Choosing hurts nobody; fitting can. Lock out the power, recover, zero pressure checked "
        "twice, glasses and gloves.",
        "Flammable refrigerant: detector, ventilation, no ignition source; never a torch on a "
        "charged or unpurged system.",
        "Parts must be approved for this refrigerant and its pressures. A nameplate that names "
        "the valve rules.",
    ),
    steps=(
        "Write down refrigerant, design load, box air, evaporating temperature.",
        "Heads of the hottest and of the coldest day. Smallest load or lowest speed.",
        "Warmest start, and the highest evaporating temperature of the compressor.",
        "Measure the coil's pressure drop; look up what it is worth in degrees.",
        "Distributor, or more than {ladder}: external equaliser (common practice, no published "
        "source). Otherwise internal will do.",
        "Port: smallest that carries full load on the hottest and the coldest day with a quarter "
        "of its travel in hand. Check the least load.",
        "Large port and heads far apart: balanced.",
        "Charge: liquid. If the pull-down overloads the compressor: gas, its power "
        "element kept warmer than its bulb.",
        "Body: the box's pipes. Prefer a strainer that comes out from outside.",
        "Lay the parts out, read every mark aloud, compare with the list.",
        "Build: new seals; cartridge flush, never forced; element hand-tight plus one hex flat "
        "(common practice, no published source).",
        "Tag: port, refrigerant, charge kind, equaliser, setting, date, your name.",
        "After the first start read the superheat at full load and write it on the tag.",
    ),
    quantities={"ladder": (kit.EXTERNAL_ABOVE, "temperature_difference")},
    notice=f"{kit.the_kit().notice} {hall.hall().notice}",
)

LESSON = Lesson(
    number="24",
    title="Build the valve",
    goals=(
        "ask a box what its valve has to do at every corner of the year",
        "choose port, kind of port, bulb charge, equaliser and body for it, and say why",
        "say why the next size down starves and the next size up hunts",
        "tell when no valve can do it all, and at which corner it fails",
    ),
    minutes=45,
    before=("20", "22"),
    cautions=(
        "On this page nothing can hurt you; fitting a valve can. Lesson 30 is about that, the card "
        "at the end has the short of it.",
        "Propane and other flammable refrigerants: parts approved for them, ventilation, no "
        "ignition source, never a torch on a charged or unpurged system.",
        "If the nameplate or the plan names a valve, that is the valve. Local code and the licence "
        "that the work needs come first.",
    ),
    call=CALL,
    readings=READINGS,
    notes=NOTES,
    predictions=PREDICTIONS,
    try_this=(
        "Move the design load from the left end to the right and watch the frame climb down the "
        "rows. Where does the kit end?",
        "Take the distributor out and move the pressure lost in the coil up from nothing. At what "
        "drop does the equaliser change?",
        "Press “Large cold room” and read why its port is balanced. Then ask for a conventional "
        "one: which corner says no?",
    ),
    tasks=l24_tasks.ALL,
    card=CARD,
    sources=(
        Source(
            "Properties of the refrigerants",
            "CoolProp's equations of state, tabulated in data/properties",
            READ,
        ),
        Source("Parts of the kit", "data/kit.toml, invented, described by physics", OURS),
        Source("Port sizes", "preferred numbers, ISO 3, series R10", MEMORY),
        Source("Openings of the strainers", "ASTM E11, as carried by the package fluids", READ),
        Source("Wire of the strainers", "ASTM E11, nominal", MEMORY),
        Source(
            "A distributor loses one to two bar",
            "Hundy, Trott, Welch, Refrigeration and Air-Conditioning",
            READ,
        ),
        Source(
            "External equaliser with a distributor, or from 2 °F of boiling temperature on",
            "what is taught and done",
            PRACTICE,
        ),
        Source(
            "One kit of ports covers a quarter ton to 3 tons of R404A or 4 tons of R448A",
            "what is taught and done; the kit is checked against it",
            PRACTICE,
        ),
        Source(
            "Every bar and every dot: valve, coil and compressor solved together at every corner",
            "lowside.kit, checked in tests/test_kit.py and tests/test_lesson_24.py",
            OURS,
        ),
        Source(
            "Discharge coefficient growing with liquid density",
            "Wile 1935, both terms, as quoted in later papers",
            MEMORY,
        ),
        Source("The marks that every corner has to keep to", "our own choice, no laws", OURS),
    ),
    leaves_out=(
        "Time. A pull-down is taken as it starts; a compressor that slows under its load, and a "
        "valve that hunts (lesson 28), are not in it. “Hunts easily” is a mark on how strongly the "
        "flow answers the bulb.",
        "The head is given. In a real box it answers to load and charge.",
        "A distributor is counted as pressure that the port does not get, with the square of the "
        "compressor's share; that it feeds all circuits alike is assumed.",
        "At the least load the compressor turns slower and the head stays that of the day; in a "
        "real box it would fall a little.",
        "How much a port passes: two models of the jet differ. For propane and isobutane the page "
        "names the size that each of them chooses.",
        "Approval of a part for a refrigerant, its highest pressure, oil, wear and noise: those "
        "are on the part and in its papers.",
    ),
    next="26",
    quantities=l24_numbers.quantities,
)
