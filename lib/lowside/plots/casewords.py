"""What a filled case is good for, in words."""

from __future__ import annotations

from functools import cached_property

from lowside import carry
from lowside.kit.reasons import together

PLURAL = {"body": "Bodies", "cartridge": "Cartridges", "element": "Power elements"}
_NAMED = 6  # boxes that are named in a sentence, the others are counted
_LEFT = 4  # remarks on boxes that are left


class Filled:
    """The best case of so many places, beside all other numbers of places.

    Parameters
    ----------
    stops : tuple of carry.Stop
        The route.
    places : int
        In the case.
    money : float or None
        That all parts may cost. [-]
    food : float
        Share of a call's weight that goes by the food at risk. [-]
    """

    def __init__(self, stops, places, money, food):
        self.stops, self.places, self.money, self.food = stops, places, money, food
        self.weights = carry.weights(stops, food)
        self.curve = carry.curve(stops, food=food)
        self.free = self.curve[min(places, len(self.curve) - 1)]
        bound = money is not None and self.free.price > money
        self.case = carry.best(stops, places, money, food) if bound else self.free
        self.bound = bound

    @property
    def weighing(self):
        """What the height of the curve means."""
        if self.food == 0.0:
            return "Calls of a year"
        return "Food behind the calls" if self.food == 1.0 else "Calls and food, weighed"

    @cached_property
    def shares(self):
        """Weight covered by the best case of 0, 1, 2 … places, a list [-]."""
        return [case.sum(self.weights) for case in self.curve]

    @property
    def share(self):
        """Weight covered by this case [-]."""
        return self.case.sum(self.weights)

    @cached_property
    def one_by_one(self):
        """Parts and weight of every step of filling without taking back, pairs of a list."""
        steps = carry.one_by_one(self.stops, self.food)
        return [(len(case.parts), case.sum(self.weights)) for case in steps]

    @property
    def next_gain(self):
        """How many places more buy something, and the best case with them, whatever it costs."""
        for places in range(self.places + 1, len(self.curve)):
            if self.shares[places] > self.shares[self.places]:
                return places - self.places, self.curve[places]
        return 0, self.curve[-1]

    @property
    def left(self):
        """Boxes that are not covered, a list of `carry.Stop`."""
        return [stop for stop, yes in zip(self.stops, self.case.covered, strict=True) if not yes]

    @property
    def waiting(self):
        """Food behind the calls of a year that are not covered [kg]."""
        return _food(self.left)

    def lacks(self, row):
        """Say in a few words what a box lacks."""
        stop = self.stops[row]
        missing = self.case.missing(stop)
        if not missing:
            return "nothing fits"
        if len(missing) > 1:
            return f"{len(missing)} parts short"
        first, second = label(missing[0])
        return f"{first}, {second}" if missing[0].kind == "element" else f"{first} {second}"


def label(part):
    """Name a part in two short lines.

    Parameters
    ----------
    part : carry.Part

    Returns
    -------
    tuple of str
    """
    if part.kind == "cartridge":
        size, unit, construction = part.key.split(" ")
        return f"{size} {unit}", construction
    if part.kind == "body":
        name, equaliser = part.key.split(", ")
        size, _, connection, _ = name.split(" ")
        return f"{size} {connection}", equaliser.replace(" equaliser", "")
    charged, _, boxes = part.key.partition(" for ")
    refrigerant, kind, _ = charged.split(" ")
    return f"{refrigerant} {kind}", boxes


def words(filled, show):
    """Say what lies in the case and what it covers.

    Parameters
    ----------
    filled : Filled
    show : Readout
        The reader's units.

    Returns
    -------
    str
    """
    case, count = filled.case, len(filled.case.parts)
    behind, waiting = (show.text(mass, "goods") for mass in (_food(filled.stops), filled.waiting))
    said = [
        f"Places in the case: {filled.places}. The best {count} parts cover {case.calls:.1f} of "
        f"{_calls(filled.stops):.1f} calls a year, {show.text(case.calls_share, 'ratio')}; of the "
        f"{behind} of food behind the calls {waiting} wait for a second trip. The parts cost "
        f"{case.price:g} at invented prices."
    ]
    for kind in carry.KINDS:
        held = [part.key for part in case.parts if part.kind == kind]
        if held:
            said.append(f"{PLURAL[kind]}: {'; '.join(held)}.")
    covered = [stop.box for stop, yes in zip(filled.stops, case.covered, strict=True) if yes]
    if covered:
        said.append(f"Covered: {', '.join(covered)}.")
    if filled.left:
        said.append(f"Not covered: {', '.join(stop.box for stop in filled.left)}.")
    stairs = ", ".join(show.text(share, "ratio") for share in filled.shares)
    said.append(
        f"{filled.weighing}, covered with 0, 1, 2 and so on places: {stairs}. One build after the "
        f"other and nothing taken back, {filled.one_by_one[-1][0]} parts reach what "
        f"{len(filled.curve) - 1} of the best do."
    )
    return " ".join(said)


def readings(filled, show):
    """Give what the case is good for as a row of readings.

    Parameters
    ----------
    filled : Filled
    show : Readout
        The reader's units.

    Returns
    -------
    list of (str, str)
    """
    case = filled.case
    return [
        ("Places filled", f"{len(case.parts)} of {filled.places}"),
        ("Calls covered", show.text(case.calls_share, "ratio")),
        ("Second trips a year", f"{_calls(filled.left):.1f}"),
        ("Food that waits for them", show.text(filled.waiting, "goods")),
        ("Parts cost (invented)", f"{case.price:g}"),
    ]


def remarks(filled, show):
    """Say of boxes that are left what they lack, the heaviest first.

    Parameters
    ----------
    filled : Filled
    show : Readout
        The reader's units.

    Returns
    -------
    list of (str, str)
    """
    weight = dict(zip(filled.stops, filled.weights, strict=True))
    left = sorted(filled.left, key=lambda stop: -weight[stop])
    said = [
        ("nothing fits", f"{stop.box}: {stop.why_none(show)}.")
        for stop in left
        if not all(stop.needs)
    ]
    short = [stop for stop in left if all(stop.needs)]
    said += [
        ("second trip", f"{stop.box} lacks {_some(p.key for p in filled.case.missing(stop))}.")
        for stop in short[:_LEFT]
    ]
    return said


def numbers(filled):
    """Give the numbers that `why` compares.

    Parameters
    ----------
    filled : Filled

    Returns
    -------
    dict
    """
    return {"filled": filled, "stops": filled.stops, "food": filled.food}


def why(start, now, show):
    """Say what the next place in the case buys.

    Parameters
    ----------
    start, now : dict
        Numbers of the first figure and of this one; only these count.
    show : Readout
        The reader's units.

    Returns
    -------
    str
    """
    filled = now["filled"]
    if filled.bound:
        return (
            f"Here the money decides, not the places: {filled.money:.0f} buy "
            f"{len(filled.case.parts)} parts and cover "
            f"{show.text(filled.case.calls_share, 'ratio')} of the calls; the best "
            f"{len(filled.free.parts)} parts would cost {filled.free.price:g} and cover "
            f"{show.text(filled.free.calls_share, 'ratio')}."
        )
    if filled.places + 1 >= len(filled.curve):
        spare = filled.places - len(filled.case.parts)
        more = f" {spare} of the places stay empty." if spare else ""
        return f"One more place buys nothing: all that the kit can cover is covered.{more}"
    more, after = filled.next_gain
    gain = after.sum(filled.weights) - filled.share
    new = [part.key for part in after.parts if part not in filled.case.parts]
    out = [part.key for part in filled.case.parts if part not in after.parts]
    won, lost = won_and_lost(filled.case, after)
    what = _some(new) if not out else f"{_some(new)}, in place of {_some(out)}"
    lead = "One more place buys"
    if more > 1:
        lead = f"One more place buys nothing yet; {more} more buy"
    said = f"{lead} {what}: {show.text(gain, 'ratio', 1)} more, with {won}"
    return f"{said}, and gives up {lost}." if lost else f"{said}."


def won_and_lost(before, after):
    """Name the boxes won and lost from one case to the next.

    Parameters
    ----------
    before, after : carry.Case
        Of the same route.

    Returns
    -------
    tuple of str
    """
    pairs = list(zip(before.stops, before.covered, after.covered, strict=True))
    won = [stop.box for stop, first, then in pairs if then and not first]
    lost = [stop.box for stop, first, then in pairs if first and not then]
    return _some(won), _some(lost)


def _calls(stops):
    return sum(stop.calls for stop in stops)


def _food(stops):
    return sum(stop.calls * stop.food for stop in stops)


def _some(items):
    items = list(items)
    if len(items) > _NAMED:
        items = [*items[:_NAMED], f"{len(items) - _NAMED} more"]
    return together(items)
