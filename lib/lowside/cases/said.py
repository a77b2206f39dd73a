"""What a customer says: what somebody behind a counter could notice, never what a gauge would."""

from __future__ import annotations

OPENINGS = (
    "It is warm in there, and it never stops running.",
    "My thermometer has been creeping up since this morning.",
    "The things at the top are not cold any more.",
)
NOTHING = (
    "Your colleague told me to have it looked at once a year, so here you are. It sounds louder "
    "than I remember.",
    "Somebody said a box should not run this much. I would like to hear it from you.",
)
#: What may be noticed of each fault besides; it may also have been noticed of others.
NOTICED = {
    "undercharge": "A fitter topped it up in spring, and it was fine for a while.",
    "overcharge": "It has not been right since somebody put gas in.",
    "port_small": "They changed a part in the valve last month.",
    "port_big": "They changed a part in the valve last month.",
    "strainer": "It got worse bit by bit since the pipe was mended.",
    "drier": "It got worse bit by bit since the compressor was changed.",
    "foreign_gas": "It has been hot and loud ever since it was opened.",
    "condenser_dirty": "It blows hot, and there is flour on everything here.",
    "condenser_fan": "It hums differently, and the motor end is very hot.",
    "evaporator_air": "Hardly any air comes out of the fan inside.",
    "bulb_lost": "One day it simply gave up, from cold to warm.",
    "bulb_loose": "The cleaners were in there with brushes on Monday.",
    "spring_tight": "A young man turned a screw in there and said it would save power.",
    "spring_loose": "A young man turned a screw in there, and now the pipe sweats back to the end.",
    "equaliser": "The valve is new, since last week.",
    "valve_leak": "It is old, and it is louder than it was.",
    "moisture": "It cools, then it does not, then it does again.",
}
DECOYS = {
    "hot_day": "Of course it is hot out there today.",
    "warm_product": "The delivery came in warm an hour ago, all at once.",
}


def complaint(wrong, decoys, place, told):
    """Put a complaint together.

    Parameters
    ----------
    wrong : tuple of (str, float)
        Faults.
    decoys : tuple of str
    place : Place
    told : float
        Between 0 and 1: which words are chosen, and whether the telling detail is left out. [-]

    Returns
    -------
    str
    """
    words = OPENINGS if wrong or decoys else NOTHING
    lines = [words[int(told * len(words))]]
    if told > 1.0 / 3.0:
        lines += [NOTICED[key] for key, _ in wrong[:1]]
    lines += [DECOYS[key] for key in decoys]
    lines.append(f"I have {place.holds} in it.")
    return " ".join(lines)
