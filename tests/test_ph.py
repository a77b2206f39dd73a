"""The pressure-enthalpy diagram: lines where the refrigerant says, braces as long as the heat."""

import itertools
import math
import re

import numpy as np
import pytest
from lowside import cycle, readout, refrigerants
from lowside.errors import OutOfRange
from lowside.plots import canvas, dome, marks, ph, style

US, METRIC = readout.choose("us"), readout.choose("metric")


def diagram(name="R448A", show=US, **options):
    return ph.PhDiagram(refrigerants.get(name), show, **options)


def solved(name="R290", evaporating=263.15, condensing=313.15, superheat=6.0, subcooling=5.0):
    fluid = refrigerants.get(name)
    return cycle.between_temperatures(fluid, evaporating, condensing, superheat, subcooling, 0.7)


def only(items, kind):
    return [item for item in items if isinstance(item, kind)]


@pytest.mark.parametrize("name", refrigerants.NAMES)
@pytest.mark.parametrize("show", [US, METRIC], ids=["us", "metric"])
def test_every_refrigerant_has_a_diagram(name, show):
    chart = diagram(name, show)
    fluid = chart.refrigerant
    low, high = chart.pressures
    assert fluid.pressure_range[0] <= low < high <= fluid.pressure_range[1]
    for edge in fluid.saturation(np.array([low, high])).liquid_enthalpy:
        assert chart.enthalpies[0] < edge < chart.enthalpies[1]


@pytest.mark.parametrize("name", ["R290", "R600a", "R404A", "R448A", "R455A"])
@pytest.mark.parametrize("temperature", [253.15, 283.15, 313.15])
def test_an_isotherm_has_its_temperature_everywhere(name, temperature):
    chart = diagram(name)
    branches = list(dome.isotherm(chart.refrigerant, temperature, chart.pressures))
    assert len(branches) == 3, "liquid, dome and vapour"
    for h, p in branches:
        along = chart.refrigerant.state_ph(p, h, check=False).temperature
        assert np.allclose(along, temperature, atol=0.05)
    for (h_before, p_before), (h_after, p_after) in itertools.pairwise(branches):
        ends = [
            (h_before[i], p_before[i], h_after[j], p_after[j]) for i in (0, -1) for j in (0, -1)
        ]
        assert any(abs(a - c) < 300 and abs(b / d - 1) < 1e-3 for a, b, c, d in ends)


def test_isotherms_slope_in_the_dome_of_a_blend_only():
    def fall(name):
        chart = diagram(name)
        _, (h, p), _ = dome.isotherm(chart.refrigerant, 263.15, chart.pressures)
        return p.max() / p.min(), h

    ratio, _ = fall("R290")
    assert ratio == pytest.approx(1.0, abs=1e-9)
    ratio, h = fall("R448A")
    fluid = refrigerants.get("R448A")
    expected = float(fluid.bubble_pressure(263.15) / fluid.dew_pressure(263.15))
    assert ratio == pytest.approx(expected, rel=1e-6)
    assert ratio > 1.2
    assert h.size > 2


def test_braces_span_the_heat_of_superheat_and_subcooling():
    result, chart = solved("R448A"), diagram("R448A")
    fluid = result.refrigerant
    p, t = float(result.suction.pressure), float(result.suction.temperature)
    (brace,) = only(chart.superheat(p, t), marks.Brace)
    assert brace.x0 == pytest.approx(float(fluid.saturation(p).vapour_enthalpy))
    assert brace.x1 == pytest.approx(float(result.suction.enthalpy), abs=60)
    assert brace.text == "superheat 10.8 °F"
    p, t = float(result.liquid.pressure), float(result.liquid.temperature)
    (brace,) = only(chart.subcooling(p, t), marks.Brace)
    assert brace.x1 == pytest.approx(float(fluid.saturation(p).liquid_enthalpy))
    assert brace.x0 == pytest.approx(float(result.liquid.enthalpy), abs=60)
    assert brace.text == "subcooling 9.0 °F"


def test_no_brace_where_there_is_nothing_to_brace():
    chart = diagram("R290")
    boiling = float(chart.refrigerant.dew_temperature(4e5))
    assert chart.superheat(4e5, boiling - 2) == []
    assert chart.subcooling(4e5, boiling + 2) == []


def test_a_cycle_shows_four_numbered_states_in_their_places():
    result = solved()
    items = diagram("R290").cycle(result)
    places = {item.number: (item.x, item.y) for item in only(items, marks.Numbered)}
    states = result.suction, result.discharge, result.liquid, result.valve_outlet
    for number, state in enumerate(states, 1):
        assert places[str(number)] == (float(state.enthalpy), float(state.pressure))
    lines = only(items, marks.Line)
    assert {line.dash for line in lines} > {"solid"}, "not told apart by colour alone"
    names = {text.text for text in only(items, marks.Text)}
    assert names == {"evaporator", "compressor", "condenser", "valve"}


def test_glide_marks_bubble_and_dew_at_one_pressure():
    """Bubble -20.24 and dew -13.98 °C at 30 psig: two independent prototypes with CoolProp 8."""
    chart = diagram("R448A", METRIC)
    p = 30 * 6894.757 + 101325
    items = chart.glide(p)
    texts = [text.text for text in only(items, marks.Text)]
    assert texts == ["bubble\n-20.2 °C", "dew -14.0 °C"]
    square, circle = only(items, marks.Markers)
    assert (square.shape, circle.shape) == ("square", "circle")
    assert [*square.y, *circle.y] == [p, p]
    (brace,) = only(items, marks.Brace)
    assert brace.text == "glide 6.3 K"


def test_gauge_ticks_stand_where_the_gauge_reads_them_at_any_altitude():
    for show in (US, METRIC, readout.choose("us", altitude=1600.0)):
        figure, axes = diagram("R290", show).background._fresh()
        ticks = zip(
            axes["main"].get_yticks(), axes["main"].yaxis.get_major_formatter().seq, strict=True
        )
        for pressure, label in ticks:
            value = float(show.value(pressure, "gauge_pressure"))
            assert value == pytest.approx(float(label), abs=1e-6)
        figure.clear()


def test_high_up_a_gauge_cannot_show_more_vacuum_than_there_is_air():
    """At 4000 m the barometer stands at 18.2 inHg (ICAO standard atmosphere, 61.6 kPa)."""
    figure, axes = diagram("R600a", readout.choose("us", altitude=4000.0)).background._fresh()
    labels = axes["main"].yaxis.get_major_formatter().seq
    assert "0" in labels
    assert not any(label.startswith("20 inHg") for label in labels)
    figure.clear()


def test_a_vacuum_is_marked_in_inches_of_mercury():
    _, axes = diagram("R600a", US).background._fresh()
    labels = dict(
        zip(axes["main"].yaxis.get_major_formatter().seq, axes["main"].get_yticks(), strict=True)
    )
    # 10 inHg = 33.8639 kPa: NIST SP 811, conversion of inches of mercury (32 °F).
    assert labels["10 inHg"] == pytest.approx(101325 - 33863.9, abs=5)


def test_ticks_keep_apart():
    for name in refrigerants.NAMES:
        chart = diagram(name, US)
        _, axes = chart.background._fresh()
        _, ys = chart.background.points(None, axes["main"].get_yticks())
        assert np.all(np.abs(np.diff(sorted(ys))) > 20)


def overlaps(figure):
    """Return pairs of labels and discs that overlap, and those that leave the figure."""
    place = figure.background
    layout = place.layout()
    canvas.lower(figure.items, place, layout)
    for box in layout.boxes:
        inside = box[0] >= 0 and box[1] >= 0 and box[2] <= place.width and box[3] <= place.height
        if not inside:
            yield box
    for a, b in itertools.combinations(layout.boxes, 2):
        if min(a[2], b[2]) - max(a[0], b[0]) > 1 and min(a[3], b[3]) - max(a[1], b[1]) > 1:
            yield a, b


@pytest.mark.parametrize("name", ["R290", "R404A", "R448A", "R600a"])
@pytest.mark.parametrize("show", [US, METRIC], ids=["us", "metric"])
def test_no_label_of_a_cycle_overlaps_another_or_leaves_the_figure(name, show):
    for evaporating, condensing in itertools.product((-33, -20, -8, 5), (25, 42, 58)):
        for superheat, subcooling in ((0, 0), (6, 5), (25, 14)):
            result = solved(name, evaporating + 273.15, condensing + 273.15, superheat, subcooling)
            figure = ph.cycle_figure(result, show)
            assert list(overlaps(figure)) == [], (evaporating, condensing, superheat, subcooling)


def test_thin_lines_are_labelled_where_nothing_moves():
    figure = diagram("R290").figure([], "empty")
    drawn = canvas.lower(figure.items, figure.background, figure.background.layout())
    said = {getattr(mark, "text", "") for mark in drawn}
    for wanted in ("subcooled liquid", "boiling", "vapour", "40 °F", "20 % vapour", "60 %"):
        assert wanted in said


def test_an_isotherm_of_the_glide_keeps_inside_the_dome():
    chart = diagram("R448A")
    for line in chart.isotherm(263.15):
        share = chart.refrigerant.state_ph(line.y, line.x, check=False).quality
        assert np.all((share > -1e-6) & (share < 1 + 1e-6))


def test_cycle_figure_says_what_it_shows():
    figure = ph.cycle_figure(solved("R448A"), US)
    for said in ("R448A", "10.8 °F", "9.0 °F", "14.0 °F (dew)", "104.0 °F (dew)", "COP"):
        assert said in figure.words
    assert dict(figure.readings)["Suction gauge"].endswith("psig")
    assert figure.numbers["superheat"] == pytest.approx(6.0, abs=0.02)
    assert figure.words == ph.cycle_figure(solved("R448A"), US).words
    metric = ph.cycle_figure(solved("R448A"), METRIC)
    assert "°F" not in metric.words
    assert metric.numbers == figure.numbers
    without_glide = ph.cycle_figure(solved("R290"), US)
    assert "(dew)" not in without_glide.words


def test_moving_a_cycle_draws_no_new_background_and_stays_light():
    first = ph.cycle_figure(solved(), US)
    moved = ph.cycle_figure(solved(condensing=318.15), US)
    assert moved.background is first.background
    assert len(moved.overlay()) < 8000, "bytes that travel at every step"
    assert "nan" not in moved.overlay()


def test_glide_figure_tells_the_slip_from_the_truth():
    fluid = refrigerants.get("R448A")
    figure = ph.glide_figure(fluid, 3.08e5, METRIC, 266.0)
    numbers = figure.numbers
    assert numbers["superheat"] == pytest.approx(266.0 - float(fluid.dew_temperature(3.08e5)))
    assert numbers["from_bubble"] - numbers["superheat"] == pytest.approx(numbers["glide"])
    assert "by mistake" in figure.words
    assert "suction line" not in ph.glide_figure(fluid, 3.08e5, METRIC).words


def test_a_pressure_outside_the_tables_is_refused_by_name():
    with pytest.raises(OutOfRange):
        diagram("R290", pressures=(1e3, 2e6))
    with pytest.raises(OutOfRange):
        ph.glide_figure(refrigerants.get("R448A"), 1e3, US)


def test_a_reading_is_a_diamond_with_its_values():
    items = diagram("R290", METRIC).reading(4e5, 280.0, "your line")
    (marker,) = only(items, marks.Markers)
    fluid = refrigerants.get("R290")
    assert marker.shape == "diamond"
    assert marker.colour == style.OWN
    assert marker.x == [float(fluid.state_pt(4e5, 280.0).enthalpy)]
    (text,) = only(items, marks.Text)
    assert re.search(r"6\.[89] °C", text.text)
    assert math.isfinite(text.x)
