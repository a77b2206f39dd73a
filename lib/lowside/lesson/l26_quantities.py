"""What the texts of lesson 26 speak of."""

from __future__ import annotations

from functools import cache

from lowside.identify import decision, route
from lowside.identify.calibration import LEVEL

from . import hall
from . import l26_numbers as n
from .wording import Difference


class _Quantities(dict):
    """What the texts speak of; what takes seconds is worked out when a text asks for it."""

    def __missing__(self, name):
        for slow in (_of_the_trial, _of_the_route):
            self.update(slow())
            if name in self:
                return self[name]
        raise KeyError(name)


@cache
def quantities():
    """Compute the quantities of the lesson's texts.

    Returns
    -------
    dict
        Name to SI value and kind, or to a text.
    """
    box, fluid = hall.box(n.BOX), n.mild_day().box.refrigerant
    first, second = n.read("running"), n.read("running", hole=n.PLUGGED, mild=False)
    healthy = n.read("running", port=box.metering.port, mild=False)
    floods = n.read("bulb", port=box.metering.port)
    without = decision.expect(n.suspicion(), n.holds(), n.costs(), route.Habits().parts_known)
    tagged = decision.expect(n.suspicion(n.INSIDE), n.holds(), n.costs(), n.RELIABILITY)
    little = n.felt(n.LITTLE, second.strainer_drop)
    belief = n.library().belief({"running": first.readings})
    kept = belief.credible()
    untagged, known = n.suspicion(), n.suspicion(n.INSIDE)
    return _Quantities(
        {
            "stall": box.stall,
            "what": box.what,
            "holds": box.holds,
            "refrigerant": box.refrigerant,
            "notice": hall.hall().notice,
            "charge": (box.charge, "mass"),
            "set_point": (box.box_temperature, "temperature"),
            "outside": (n.MILD, "temperature"),
            "hot": (box.summer_ambient, "temperature"),
            "planned": (box.metering.port, "port"),
            "inside": (n.INSIDE, "port"),
            "suspected": (untagged.port.best, "port"),
            "smallest": (kept[0], "port"),
            "largest": (kept[-1], "port"),
            "kept": str(len(kept)),
            "sizes": str(len(n.library().sizes)),
            **_readings("first", first, fluid, n.mild_day()),
            **_readings("second", second, fluid, n.second_site()),
            "healthy_superheat": _superheat(healthy),
            "subcooling": (n.SUBCOOLING, "temperature_difference"),
            "second_cooling": (float(second.capacity) / box.design_load, "ratio"),
            "clear_cooling": (
                float(n.read("running", mild=False).capacity) / box.design_load,
                "ratio",
            ),
            "felt": (float(second.readings[-1]), "temperature_difference"),
            "drop": (float(second.strainer_drop), "pressure_difference"),
            "hidden": (n.hidden_drop(), "pressure_difference"),
            "little": (n.LITTLE, "temperature_difference"),
            "felt_little": (float(little), "temperature_difference"),
            "untouched": (n.CLEAR, "ratio"),
            "reliability": (n.RELIABILITY, "ratio"),
            "chance_suspected": (untagged.port.of(untagged.port.best), "ratio"),
            "chance_inside": (known.port.of(n.INSIDE), "ratio"),
            "chance_plugged": (1.0 - known.clear, "ratio"),
            "plan_without": decision.PLANS[decision.best(without)],
            "plan_tagged": decision.PLANS[decision.best(tagged)],
            "worth_without": (without[decision.best(without)].worth, "minutes"),
            "worth_tagged": (tagged[decision.best(tagged)].worth, "minutes"),
            "tag_saves": (
                without[decision.best(without)].worth - tagged[decision.best(tagged)].worth,
                "minutes",
            ),
            "flood_share": (1.0 - float(floods.quality), "ratio"),
            "flood_flow": (float(floods.liquid_back), "mass_flow"),
        }
    )


def _of_the_trial():
    judged = n.calibration()
    return {
        "valves": str(n.VALVES),
        "sure_running": (judged["running",].certainty, "ratio"),
        "sure_head": (judged["running", "head"].certainty, "ratio"),
        "sure_stem": (judged["running", "stem"].certainty, "ratio"),
        "sure_pull_down": (judged["running", "pull-down"].certainty, "ratio"),
        "sure_bulb": (judged["running", "bulb"].certainty, "ratio"),
        "held": (judged["running",].trimmed, "ratio"),
        "held_bulb": (judged["running", "bulb"].trimmed, "ratio"),
        "level": (LEVEL, "ratio"),
    }


def _of_the_route():
    habits, worths = route.Habits(), n.route_worth()
    saved = {key: worth.saved(habits) for key, worth in worths.items()}
    most = max(saved, key=saved.get)
    read_first = sum(
        habits.calls * (worth.taken[route.ALWAYS_OPEN].worth - worth.taken[route.NO_TAG].worth)
        for worth in worths.values()
    )
    return {
        "boxes": str(len(worths)),
        "calls": f"{habits.calls:g}",
        "saved_year": (sum(saved.values()), "minutes"),
        "reading_saves": (read_first, "hours"),
        "most_stall": hall.box(most).stall,
        "most_what": hall.box(most).what,
        "most_saved": (saved[most], "minutes"),
        "most_charge": (hall.box(most).charge, "mass"),
        "writing": (habits.tagging_time, "minutes"),
    }


def _superheat(seen):
    return Difference(float(seen.readings[1]), float(seen.readings[0]), "temperature")


def _readings(day, seen, fluid, site):
    dew, line, discharge, air, _ = seen.readings.tolist()
    head = fluid.dew_pressure(site.condensing_temperature)
    return {
        f"{day}_suction": (float(fluid.dew_pressure(dew)), "gauge_pressure"),
        f"{day}_line": (line, "temperature"),
        f"{day}_superheat": _superheat(seen),
        f"{day}_head": (float(head), "gauge_pressure"),
        f"{day}_liquid": (
            float(fluid.bubble_temperature(head)) - site.subcooling,
            "temperature",
        ),
        f"{day}_discharge": (discharge, "temperature"),
        f"{day}_air": (air, "temperature"),
    }
