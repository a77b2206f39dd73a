"""Lesson 30: fit it without hurting it."""

from __future__ import annotations

from . import l30_numbers, l30_tasks
from .card import JobCard
from .model import MEMORY, OURS, PRACTICE, READ, Lesson, Prediction, Source

CALL = (
    "{stall}: the {what} with {holds}, {refrigerant}, {nameplate} on the nameplate. {notice}\n\n"
    "Last month somebody changed its expansion valve. Since then the meter finds propane at the "
    "valve's outlet. There the valve's copper stub goes into the coil's stainless stub. You find "
    "a rod of {old_filler}, a copper-phosphorus filler, and a crack right along the stainless. "
    "And the valve no longer closes: nobody had put a rag round it.\n\n"
    "A new valve is on its way: body of {body}, copper stubs {diameter} across, {stub} from the "
    "joint to the body. What is inside it should not get hotter than about {limit}.\n\n"
    "The box is off, the place aired, the meter running. The readings are from the hall's log, of "
    "a day when all was well; {superheat} of superheat is where you have to get back to."
)

READINGS = (
    ("Suction gauge", "{suction}"),
    ("Suction-line clamp", "{suction_line}"),
    ("Head gauge", "{head}"),
    ("Liquid-line clamp", "{liquid_line}"),
)

PREDICTIONS = (
    Prediction(
        key="hottest",
        question=(
            "Nothing is round the valve. The joint is heated until {filler} flows, the torch "
            "stays {stay} more and leaves. When is the valve body hottest?"
        ),
        options={
            "flows": "when the filler flows",
            "leaves": "when the torch leaves",
            "later": "some time after the torch has left",
        },
        outcome=l30_numbers.when_hottest,
        because=(
            "The torch leaves after {bare_leaves}, with the body at {bare_at_leaving}. The hot "
            "stub empties itself into the body: {bare_later} later it reaches {bare_peak}. Who "
            "looks at the valve when the torch leaves looks too early."
        ),
    ),
    Prediction(
        key="flame",
        question=(
            "The same joint, still bare, with twice the flame: {twice} into the cold joint "
            "instead of {flame}. The torch leaves {stay} after the filler flows, as before. The "
            "valve body gets …"
        ),
        options={
            "hotter": "hotter: more flame, more heat",
            "same": "about as hot",
            "cooler": "cooler",
        },
        outcome=l30_numbers.twice_the_flame,
        because=(
            "With {flame} the filler flows after {bare_flows}, with {twice} after "
            "{strong_flows}. The joint gets no hotter for that, since you move the flame. But "
            "heat had less time to run to the valve: {strong_peak} instead of {bare_peak}."
        ),
    ),
    Prediction(
        key="rod",
        question="Copper into stainless. Which filler does that joint want?",
        options={
            "bare": "copper-phosphorus, no flux",
            "fluxed": "copper-phosphorus, with flux",
            "silver": "a silver filler, with flux",
        },
        outcome=l30_numbers.which_filler,
        because=(
            "Phosphorus and iron make a brittle layer, flux or no flux: it cracks. {filler} with "
            "{silver} of silver is all liquid at {liquidus}, {cool_filler} with {cool_silver} at "
            "{cool_liquidus}; both need flux."
        ),
    ),
)

NOTES = {
    "botched": (
        "And what did the last one do? {old_filler} is all liquid only at {old_liquidus}. With "
        "nothing round the valve the body went to {old_peak}. The joint cracked for the "
        "phosphorus; the valve died of the heat."
    ),
    "cooler": (
        "The bare body reached {bare_peak} with {filler}. {cool_filler} flows at {cool_liquidus}; "
        "with it the body reaches {cool_peak}. With a wet rag and {filler} it is {wet_peak}."
    ),
    "stainless": (
        "Copper conducts {copper_k}, {fold} times as much as stainless with {stainless_k}. Through "
        "a stub of stainless the body would get to {steel_peak} only. But what spares the valve "
        "makes the brazing harder: round this tube copper evens out a hot side in {copper_even} "
        "seconds, stainless in {stainless_even}. So walk the flame round the tube, or one side "
        "burns its flux while the other is still cold."
    ),
    "nitrogen": (
        "How long to purge before the flame? With {pipe} of pipe and {flow_low}, well mixed, "
        "{purge} bring the oxygen down to {oxygen}. Longer does no harm."
    ),
    "sure": (
        "How sure is that? Nobody publishes how well a rag takes heat. With half the contact the "
        "body reaches {wet_high}, with twice the contact {wet_low}: the rag stays far on the safe "
        "side. Nor does a torch say what it gives: with a fifth less into the joint the bare body "
        "reaches {flame_high}, with a quarter more {flame_low}. So trust the order of things here, "
        "not the last degree."
    ),
}

CARD = JobCard(
    title="Braze a valve into a propane cabinet",
    tools=(
        "Meter for propane, tested today; fan rated for it; extinguisher",
        "Recovery machine for A3; oxygen-free nitrogen, regulator, flow meter",
        "Silver filler, 45 or 56 % (no cadmium), flux, rag and water, torque wrench",
        "Vacuum pump, micron gauge, scale, new drier, seals, tag",
    ),
    cautions=(
        "DO NOT BRAZE if the meter says anything, you cannot purge, fire permits are missing or "
        "something near can burn: press or screwed connections listed for this refrigerant.",
        "Power locked out from outside the area; no ignition source before the meter is silent; "
        "watch the place afterwards.",
        "Nitrogen through a regulator only, never oxygen or air, never above the nameplate's test "
        "pressure.",
        "Shaded glasses, gloves, fresh air: flux and oil fume, rags steam.",
    ),
    steps=(
        "Recover. Purge with nitrogen to a safe place outside, twice. Meter at the opening.",
        "CUT the old joint out with a tubing cutter, no saw or grinder. File phosphorus off. "
        "Bright metal, no chips inside; flux on the inner tube.",
        "Cartridge and power element off if they come off.",
        "Nitrogen {flow_low} to {flow_high}, far end open, {purge} or longer; keep it flowing.",
        "Rag round body and half the stub. Flame away from the valve.",
        "Big flame, both metals, round the tube. Flux clear: feed. Ring full: torch away.",
        "Let it set, never quench it. Rag and nitrogen on until hand-warm. Wash flux off.",
        "Cartridge in until flush, never forced. Power element hand-tight, then one hex flat, "
        "{flat}.",
        "Flares: two wrenches, {torque_low} to {torque_high} at {diameter}.",
        "New drier, same size. Nitrogen in steps to test pressure; bubbles; it "
        "holds. Evacuate; vacuum holds.",
        "Weigh in the nameplate charge. Meter at every joint.",
        "Bulb tight, insulated. Start; box cold; read superheat. Half a turn at most, wait {wait}, "
        "read. Tag.",
    ),
    quantities=l30_numbers.fitting(),
    notice="Steps, turns and flow: common practice, no published source. Torque: from memory.",
)

LESSON = Lesson(
    number="30",
    title="Fit it without hurting it",
    goals=(
        "say how hot a valve gets while its stub is brazed, and when",
        "choose filler and flux for the two metals in front of you",
        "protect the body with rag, flame and time, and know when not to braze at all",
        "finish the job: torque, pressure test, vacuum, charge, first start, superheat",
    ),
    minutes=45,
    before=("22", "42"),
    cautions=(
        "A torch and propane in one place kill. Never braze on a charged or unpurged system: "
        "recover, purge with nitrogen, meter silent at the opening, place aired, and only then a "
        "flame.",
        "If the meter says anything, if you cannot purge, or if something near can burn: do not "
        "braze. Press or screwed connections listed for this refrigerant need no flame.",
        "Oil in the pipe still gives off propane, and burns.",
        "Nitrogen oxygen-free and through a regulator only; never oxygen, never air. Test pressure "
        "as on the nameplate, in steps, and stand clear.",
        "No filler with cadmium. Fresh air, shaded glasses, gloves; a wet rag steams and scalds.",
        "Nameplate, the maker's instructions, local code, fire permits and the licence the work "
        "needs come first.",
    ),
    call=CALL,
    readings=READINGS,
    notes=NOTES,
    predictions=PREDICTIONS,
    try_this=(
        "Press “Wet rag”. How long may the torch stay now? Then shorten the stub as far as it "
        "goes.",
        "Press “Small torch, wet rag”. The valve gets hot, and the joint? What would you change: "
        "time or flame?",
        "Bare again: find the shortest stub for which the body stays below {limit} with the "
        "torch {stay} on. Then change the filler to {cool_filler}.",
    ),
    tasks=l30_tasks.ALL,
    card=CARD,
    sources=(
        Source(
            "Melting ranges and composition of the fillers",
            "AWS A5.8-1981 as printed in Machinery's Handbook 31, Table 1a",
            READ,
        ),
        Source(
            "Copper and brass: conductivity, specific heat, density",
            "Incropera, Fundamentals of Heat and Mass Transfer, Table A.1",
            READ,
        ),
        Source(
            "Stainless steel",
            "Mills, type 316, as documented in the MOOSE solid properties module",
            READ,
        ),
        Source("Plain steel; walls of tubes by ASTM B280", "tables", MEMORY),
        Source(
            "Which filler for which metals, flux or not, no cadmium",
            "what the welding trade teaches",
            PRACTICE,
        ),
        Source(
            "Limit of the body, flow of nitrogen, one hex flat, wait between turns",
            "what is taught and done",
            PRACTICE,
        ),
        Source("Flare torque", "EN 378-2, table of flare nuts", MEMORY),
        Source(
            "Contact of rag and paste, air round the pipe, surface of a body",
            "assumed, in data/brazing.toml",
            OURS,
        ),
        Source(
            "Temperatures along the pipe and over time",
            "lowside.joint, checked against textbook solutions in tests/test_joint.py",
            OURS,
        ),
        Source("The valve, its stub, the torch, the botched joint", "invented", OURS),
    ),
    leaves_out=(
        "The flame's own gases. A flame that points at the valve heats it directly, and all these "
        "numbers are off. Point it away.",
        "The body is one lump: seat and power element are taken as hot as the rest, though the "
        "seat near the stub is hotter for a while.",
        "A second pipe on the valve, which carries some heat away; a bracket, too.",
        "Metals conduct as at the middle of their range; a stainless tube is taken as equally hot "
        "all round.",
        "The filler is taken to flow when all of it is liquid. The phosphorus fillers begin to "
        "fill a joint earlier: {old_filler} from {old_from} by the same table.",
        "You hold the joint at just that temperature. A real hand overshoots at times, and "
        "the valve with it.",
        "Film boiling under a rag next to a very hot pipe: there it takes less heat than here.",
        "{limit} is a limit of common practice. The valve's own instructions may name another.",
    ),
    next="40",
    quantities=l30_numbers.quantities,
)
