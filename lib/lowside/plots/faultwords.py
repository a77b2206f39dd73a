"""What a fault does inside the box, in a sentence; and what of it an honest instrument shows."""

from __future__ import annotations

from lowside import faults
from lowside.faults import Family

_SPRINGS = "The valve waits for another superheat before it opens; the coil follows the spring."
_THROTTLED = (
    "Less arrives at the metering, which opens further as long as it can; then the coil starves."
)
_ICED = "Ice at the pin is a smaller port. What thaws again is what tells it apart."
_TUBE_THROTTLED = "A tube cannot open further: it passes less at once, and the coil starves."

#: Why, by fault; by family where it differs.
WHY = {
    "undercharge": {
        Family.VALVE: (
            "Missing grams come out of the condenser's liquid first. The valve opens further and "
            "hides the rest, until it is wide open."
        ),
        Family.RECEIVER: (
            "The receiver gives what is missing. Nothing moves until it is empty; then gas comes "
            "along."
        ),
        Family.TUBE: (
            "Less liquid stands in front of the tube, and a tube cannot open further: the coil "
            "starves from the first grams on."
        ),
    },
    "overcharge": {
        Family.VALVE: (
            "What is too much stands as liquid in the condenser and takes surface from it: head "
            "and subcooling climb together."
        ),
        Family.RECEIVER: (
            "The receiver swallows it until it is full; then liquid backs up into the condenser."
        ),
        Family.TUBE: (
            "Liquid backs up, head rises and pushes more through the tube than the coil can boil: "
            "it floods."
        ),
    },
    "port_small": "The valve opens further to pass the same; wide open it can do no more.",
    "port_big": (
        "The pin just stands nearer to its seat. Steady readings hardly tell; hunting would, and "
        "that is not in this steady model."
    ),
    "strainer": {
        Family.VALVE: _THROTTLED,
        Family.RECEIVER: _THROTTLED,
        Family.TUBE: _TUBE_THROTTLED,
    },
    "drier": {
        Family.VALVE: (
            "As a strainer, but it stands at the other end of the liquid line: the line behind it "
            "fills with bubbles, and its grams go to the condenser."
        ),
        Family.RECEIVER: _THROTTLED,
        Family.TUBE: _TUBE_THROTTLED,
    },
    "foreign_gas": (
        "The gauge shows refrigerant and air together. The refrigerant condenses nearly where it "
        "did; so the head looks high and the liquid looks subcooled."
    ),
    "condenser_dirty": "Less face, less air: the same heat wants a hotter condenser.",
    "condenser_fan": "Less air warms up more: the same heat wants a hotter condenser.",
    "evaporator_air": (
        "Less air brings less heat; the coil runs colder until it fits. A valve closes to suit."
    ),
    "bulb_lost": (
        "Nothing happens while some liquid is left in the bulb. When it is dry its pressure stays "
        "where it is, however warm the line gets: the valve closes."
    ),
    "bulb_loose": (
        "The bulb feels the warm air of the box beside the line, so the valve opens too far."
    ),
    "spring_tight": _SPRINGS,
    "spring_loose": _SPRINGS,
    "equaliser": (
        "Below the diaphragm stands the pressure in front of the coil instead of the one behind: "
        "the coil's pressure drop closes the valve."
    ),
    "valve_leak": (
        "Hot gas slips back and is compressed again: suction rises, head falls, and the discharge "
        "gets hotter for less refrigerant moved."
    ),
    "moisture": {
        Family.VALVE: _ICED,
        Family.RECEIVER: _ICED,
        Family.TUBE: "Ice at the end of the tube is a narrower tube, until it thaws.",
    },
    "lift": (
        "The column of liquid weighs on its foot and not on its head: at the valve the pressure "
        "is lower, the liquid boils, and the valve opens further for it."
    ),
    "warm_product": "Nothing is broken: warmer air boils more, and suction rises with it.",
    "hot_day": "Nothing is broken: the condenser rides as far above the day as before.",
}

LISTED = 4  # readings named in a sentence


def why(start, now, show):
    """Say what the fault does inside, and what shows of it.

    Parameters
    ----------
    start, now : dict
        Numbers of the first figure and of this one; only these count.
    show : Readout
        The reader's units.

    Returns
    -------
    str
        A few sentences.
    """
    if now["severity"] == 0.0:
        return "Nothing is wrong yet: this is the sound box. Make it worse."
    reason = WHY[now["fault"]]
    reason = reason[now["family"]] if isinstance(reason, dict) else reason
    return f"{reason} {seen(now)}"


def seen(now):
    """Say which readings move beyond the error of their instruments.

    Parameters
    ----------
    now : dict
        Numbers of the figure.

    Returns
    -------
    str
    """
    if not now["runs"]:
        return f"At this severity the box does not run: {now['status']}."
    order = sorted(now["sizes"], key=lambda key: -abs(now["sizes"][key]))
    clear = [key for key in order if abs(now["sizes"][key]) >= faults.SEEN]
    if not clear:
        return "No reading moves beyond the error of its instrument: nobody can read this off."
    said = ", ".join(
        f"{faults.reading(key).label} {faults.word(now['sizes'][key])}" for key in clear[:LISTED]
    )
    rest = len(clear) - LISTED
    return f"Most to be seen: {said}{f', and {rest} more' if rest > 0 else ''}."
