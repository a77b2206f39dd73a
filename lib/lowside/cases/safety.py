"""Acts that hurt somebody: they stop a call and say why. Common practice, no published source."""

from __future__ import annotations

OVER = 1.02  # of the nameplate: what a scale may be off


def danger(rig, act, value):
    """Say why an act would hurt somebody now.

    Parameters
    ----------
    rig : rig.Rig
    act : acts.Act
    value : float or None

    Returns
    -------
    str
        Empty where it would not.
    """
    flammable = rig.fluid.facts.is_flammable
    if act.hand and rig.power:
        return "The box was live: a fan started while a hand was in it. Lock it out first."
    if act.opens and not rig.recovered:
        torch = " with a torch" if act.torch else ""
        burns = " It burns." if flammable else ""
        return f"The circuit was opened{torch} with refrigerant in it.{burns} Recover first."
    if act.opens and rig.power:
        return "The circuit was opened with the power on: it could start. Lock it out first."
    if act.torch and flammable and not rig.purged:
        return (
            "A torch on a circuit that was not purged: flammable vapour was left in oil and "
            "tubes. Purge with nitrogen and let it flow."
        )
    if act.key == "charge":
        if rig.charge + value > OVER * rig.nameplate:
            return (
                "More than the nameplate says is now in the box. With a flammable refrigerant "
                "the limit keeps the room safe; with any, it floods. Recover and weigh in."
            )
        if rig.opened or (rig.recovered and rig.wet):
            return (
                "Refrigerant went into wet lines: water freezes in the valve and turns the oil "
                "sour. Pull a vacuum until it stands still when the pump is closed off."
            )
    if act.key == "power_on" and rig.recovered:
        return "A compressor ran in a vacuum or in air: it burns out, and air inside can ignite."
    return ""
