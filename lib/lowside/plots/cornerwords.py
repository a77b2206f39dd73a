"""What the figure of the corners says: its words, its readings, and what changed and why."""

from __future__ import annotations

from lowside import kit
from lowside.kit import reasons
from lowside.plots.portwords import superheat
from lowside.system import Status

#: What makes another box of it; builds before and after are not compared.
BOX = ("refrigerant", "load", "box_temperature")

#: Two short lines over each column.
HEADINGS = (
    ("hottest day", "full load"),
    ("coldest day", "full load"),
    ("hottest day", "least load"),
    ("coldest day", "least load"),
    ("pull-down", "boils at"),
)


class Case:
    """One job with its choice, read at one corner.

    Parameters
    ----------
    show : Readout
        The reader's units.
    choice : kit.Choice
    corner : int
        Place in ``kit.CORNERS`` at which gauges and clamps are read.
    """

    def __init__(self, show, choice, corner):
        self.show, self.choice, self.corner = show, choice, corner
        self.job, self.best, self.index = choice.job, choice.best, choice.index
        self.now = self.best.points.at((self.index, corner))

    def numbers(self):
        """Give what is shown by name, in SI, and the choice itself."""
        return {
            "refrigerant": self.job.refrigerant,
            "load": self.job.load,
            "box_temperature": self.job.box_temperature,
            "corner": self.corner,
            "choice": self.choice,
        }

    def readings(self):
        """Give what gauges and clamps would say at the corner."""
        show, now = self.show, self.now
        air = ("Box air", show.text(now.air_temperature, "temperature"))
        place = ("Corner", kit.CORNERS[self.corner].key)
        if not now.accepted:
            return place, ("Valve", Status(int(now.status)).words), air
        taken = now.readings()
        return (
            place,
            ("Suction gauge", show.text(taken.suction_pressure, "gauge_pressure")),
            ("Dew at that pressure", show.text(now.evaporating_temperature, "temperature")),
            ("Suction-line clamp", show.text(taken.suction_temperature, "temperature")),
            ("Superheat", superheat(show, now)),
            ("Head gauge", show.text(taken.head_pressure, "gauge_pressure")),
            ("Lift", show.text(now.lift_share, "ratio")),
            ("Cooling", show.text(now.capacity, "capacity")),
            air,
        )

    def remarks(self):
        """Say what to mind with this refrigerant, where it burns."""
        fluid = self.job.fluid
        if not fluid.facts.is_flammable:
            return ()
        said = (
            f"{fluid.name} burns ({fluid.facts.safety_class}). Parts approved for it, ventilation, "
            "no ignition source, and never a torch on a charged or unpurged system; local code "
            "comes first."
        )
        return (("Caution", said),)

    def words(self):
        """Describe the picture."""
        show, choice, job = self.show, self.choice, self.job
        said = [
            f"{job.refrigerant}, design load {show.text(job.load, 'capacity')} at "
            f"{show.text(job.box_temperature, 'temperature')} box air.",
            reasons.verdict(choice, show),
            reasons.smaller(choice, show),
            reasons.larger(choice, show),
            reasons.equaliser(choice, show),
            reasons.charge(choice, show),
            reasons.construction(choice, show),
            *self._corners(),
            band(choice, show),
        ]
        return " ".join(said).strip()

    def _corners(self):
        show, best = self.show, self.best
        for at, corner in enumerate(kit.CORNERS):
            point = best.points.at((self.index, at))
            where = corner.words[:1].upper() + corner.words[1:]
            if not point.accepted:
                yield f"{where}: {Status(int(point.status)).words}."
                continue
            able = show.text(best.able[self.index, at] / self.job.load, "ratio")
            turndown = show.text(best.turndown[self.index, at], "number", 1)
            boils = ""
            if at == kit.PULL_DOWN:
                dew = show.text(point.evaporating_temperature, "temperature")
                boils = f", boiling at {dew}"
            yield (
                f"{where}: lift {show.text(point.lift_share, 'ratio')}, superheat "
                f"{superheat(show, point)}, wide open {able} of the design load, {turndown} times "
                f"what a tenth of the travel feeds{boils}."
            )


def band(choice, show):
    """Say between which ports the models of the jet leave the choice, for hydrocarbons.

    Parameters
    ----------
    choice : kit.Choice
    show : Readout
        The reader's units.

    Returns
    -------
    str
        One or two sentences; empty for other refrigerants.
    """
    if choice.other_model is None:
        return ""
    low, high = (show.text(port, "port") for port in choice.band)
    doubt = f"How much {choice.job.refrigerant} a port passes is uncertain"
    if low == high:
        return f"{doubt}; two models of the jet agree on {low} here."
    return (
        f"{doubt}: two models of the jet choose {low} and {high}. Take it as a band, and let the "
        "superheat after the first start decide."
    )


def why(start, now, show):
    """Say what changed since the start, and why.

    Parameters
    ----------
    start, now : dict
        From ``Case.numbers``.
    show : Readout
        The reader's units.

    Returns
    -------
    str
        A few sentences.
    """
    before, after = start["choice"], now["choice"]
    if not after.met:
        return reasons.verdict(after, show)
    if before is after or any(start[name] != now[name] for name in BOX) or not before.met:
        said = (reasons.smaller(after, show), reasons.larger(after, show), band(after, show))
        return " ".join(said).strip()
    parts = (
        ("Body", "body", reasons.equaliser),
        ("Cartridge", "cartridge", _size),
        ("Power element", "element", reasons.charge),
    )
    moved = [
        (f"{name}: {getattr(before.build, part).key} → {getattr(after.build, part).key}.", reason)
        for name, part, reason in parts
        if getattr(before.build, part) != getattr(after.build, part)
    ]
    if not moved:
        lifts = (
            show.text(choice.best.points.lift_share[choice.index, kit.HOT_FULL], "ratio")
            for choice in (before, after)
        )
        return (
            f"The same build still does. Its lift at full load on the hottest day: "
            f"{' → '.join(lifts)}."
        )
    return " ".join(f"{said} {reason(after, show)}" for said, reason in moved)


def _size(choice, show):
    if choice.neighbour(-1) is None:
        return reasons.construction(choice, show)
    return reasons.smaller(choice, show)
