"""Panels, controls and pages, driven in process: values in SI, words for every refusal."""

import base64
import gc
import re
import types
import weakref

import example_lesson
import ipywidgets as widgets
import pytest
from lowside import lesson, readout
from lowside.errors import NoOperatingPoint, OutOfRange, UnknownName
from lowside.plots import canvas, marks
from lowside.screens.controls import Choice, Slider, Switch, Typed, _round_step
from lowside.screens.page import Page, open_lesson
from lowside.screens.panel import Panel
from lowside.screens.questions import look_back
from lowside.screens.reader import Units
from lowside.screens.sheet import listed, paragraph, strip

EXAMPLE = next(v for v in vars(example_lesson).values() if isinstance(v, lesson.Lesson))


def draw(figure):
    axes = figure.add_axes([0.1, 0.1, 0.8, 0.8])
    axes.set_xlim(0, 5e-3)
    axes.set_ylim(200, 320)
    return axes


def controls():
    return [
        Slider("port", "Port diameter", "port", 1.2e-3, 0.5e-3, 4.0e-3),
        Slider("evaporating", "Evaporating temperature", "temperature", 263.15, 243.15, 283.15),
        Choice("fluid", "Refrigerant", ["R290", "R404A", "R448A", "R449A"]),
        Choice("equaliser", "Equaliser", [("inside", "internal"), ("outside", "external")]),
        Switch("balanced", "Balanced port"),
        Typed("suction", "Suction gauge", "gauge_pressure", None, 2e4, 2e6),
    ]


class Steps:
    """A figure function that remembers what it was asked."""

    def __init__(self):
        self.calls = []

    def __call__(self, show, **values):
        self.calls.append(values)
        if values["evaporating"] > 280.0:
            raise OutOfRange(
                "evaporating temperature", values["evaporating"], 243, 280, "temperature"
            )
        if values["fluid"] == "R449A":
            raise NoOperatingPoint("The valve stays shut", evaporating_temperature=250.0)
        background = canvas.Background.once(draw, key=("screens", show.system))
        words = (
            f"A {show.text(values['port'], 'port')} port evaporates "
            f"at {show.text(values['evaporating'], 'temperature')} with {values['fluid']}."
        )
        item = marks.Markers([values["port"]], [values["evaporating"]])
        suction = values["suction"]
        readings = [
            ("Suction gauge", "-" if suction is None else show.text(suction, "gauge_pressure"))
        ]
        return canvas.LiveFigure(background, [item], words, readings, {"port": values["port"]})


@pytest.fixture
def steps():
    return Steps()


@pytest.fixture
def panel(steps):
    def why(start, now, show):
        return f"From {show.text(start['port'], 'port')} to {show.text(now['port'], 'port')}."

    examples = {"big port": {"port": 3e-3, "evaporating": 270.0}}
    return Panel(steps, controls(), Units("us"), "A <panel>", why, examples)


@pytest.fixture
def judged():
    """A panel with a verdict, and what its figure was asked: units and evaporating temperature."""
    calls = []

    def step(show, evaporating, **_):
        calls.append((show.system, evaporating))
        if evaporating > 280.0 or show.altitude > 4000.0:
            raise OutOfRange("evaporating temperature", evaporating, 243, 280, "temperature")
        background = canvas.Background.once(draw, key=("judged", show.system))
        temperature = show.text(evaporating, "temperature")
        return canvas.LiveFigure(
            background,
            [],
            f"The port is fine at {temperature}.",
            [("Dew", temperature)],
            {},
            [("In order", "Nothing here contradicts itself.")],
        )

    return Panel(step, controls(), Units("us"), why=lambda *_: "why it moved"), calls


def descendants(widget):
    yield widget
    for child in getattr(widget, "children", ()):
        yield from descendants(child)


# A panel ----------------------------------------------------------------------------------------


def test_step_gets_si_values_by_name(panel, steps):
    assert steps.calls == [
        {
            "port": 1.2e-3,
            "evaporating": 263.15,
            "fluid": "R290",
            "equaliser": "internal",
            "balanced": False,
            "suction": None,
        }
    ]
    assert panel.words == "A 1.20 mm port evaporates at 14.0 °F with R290."
    assert panel.role == "status"


def test_a_slider_moved_by_hand_draws_once_and_shows_its_number(panel, steps):
    panel.views["evaporating"].slider.value = 32.0
    assert len(steps.calls) == 2
    assert steps.calls[-1]["evaporating"] == pytest.approx(273.15)
    assert panel.views["evaporating"].entry.value == "32"
    assert "32.0 °F" in panel._picture.value


def test_a_browser_that_rounds_to_its_step_does_not_move_a_slider(panel, steps):
    """Seen in ipywidgets 8.1: a value off the grid comes back rounded, as if a person had moved."""
    panel.set(evaporating=263.0)
    number = float(panel.units.show.value(263.0, "temperature"))
    panel.views["evaporating"].slider.value = round(number)
    assert panel.values()["evaporating"] == 263.0
    panel.views["evaporating"].slider.value = round(number) + 1
    assert panel.values()["evaporating"] != 263.0
    panel.views["evaporating"].slider.value = round(number)
    assert panel.values()["evaporating"] == pytest.approx(panel.units.show.si(14.0, "temperature"))


def test_a_typed_number_moves_the_slider_and_may_carry_any_unit(panel):
    view = panel.views["evaporating"]
    view.entry.value = "-5 °C"
    assert panel.values()["evaporating"] == pytest.approx(268.15)
    assert view.slider.value == pytest.approx(23.0)


def test_out_of_range_is_refused_in_words_and_nothing_is_clamped(panel, steps):
    view = panel.views["port"]
    view.entry.value = "9"
    assert panel.role == "alert"
    assert "9.00 mm" in panel.words
    assert "4.00 mm" in panel.words
    assert 'role="alert"' in view.problem.value
    assert view.entry.value == "9"
    assert panel.values()["port"] == 1.2e-3
    assert len(steps.calls) == 1
    view.entry.value = "2"
    assert panel.role == "status"
    assert view.problem.value == ""
    assert panel.values()["port"] == pytest.approx(2e-3)


def test_going_back_to_the_old_value_takes_an_alert_back(panel):
    view = panel.views["port"]
    view.entry.value = "wide"
    assert panel.role == "alert"
    view.entry.value = "1.2"
    assert panel.role == "status"
    assert "lowside-stale" not in panel._picture._dom_classes


def test_what_the_physics_refuses_is_said_and_the_picture_stays(panel):
    before = panel.figure
    panel.set(evaporating=282.0)
    assert panel.role == "alert"
    assert "is 47.9 °F" in panel.words
    assert panel.figure is before
    assert "lowside-stale" in panel._picture._dom_classes
    panel.set(fluid="R449A", evaporating=263.15)
    assert panel.words.startswith("The valve stays shut")
    panel.reset()
    assert panel.role == "status"


def test_a_fault_of_ours_is_not_swallowed():
    def broken(show, port):
        if port > 2e-3:
            raise ZeroDivisionError
        return canvas.LiveFigure(canvas.Background.once(draw, key="b"), [], "fine")

    panel = Panel(broken, controls()[:1])
    with pytest.raises(ZeroDivisionError):
        panel.views["port"].slider.value = 3.0


def test_hold_and_reset_draw_once(panel, steps):
    with panel.hold():
        panel.set(port=2e-3)
        panel.set(evaporating=270.0)
        assert len(steps.calls) == 1
    assert len(steps.calls) == 2
    panel.reset()
    assert len(steps.calls) == 3
    assert steps.calls[-1] == steps.calls[0]


def test_set_refuses_what_a_control_would_refuse(panel, steps):
    with pytest.raises(UnknownName):
        panel.set(pipe=1.0)
    with pytest.raises(OutOfRange):
        panel.set(port=9e-3, evaporating=270.0)
    with pytest.raises(UnknownName):
        panel.set(fluid="R9")
    assert len(steps.calls) == 1, "nothing of a refused set is taken over"


def test_why_compares_with_the_start(panel):
    panel.set(port=2e-3)
    panel.set(port=3e-3)
    assert panel.reason == "From 1.20 mm to 3.00 mm."
    assert panel.reason in panel._picture.value


def test_examples_and_reset_are_buttons(panel):
    buttons = {w.description: w for w in descendants(panel.box) if isinstance(w, widgets.Button)}
    assert set(buttons) == {"Reset", "big port"}
    buttons["big port"].click()
    assert panel.values()["port"] == 3e-3
    buttons["Reset"].click()
    assert panel.values()["port"] == 1.2e-3


def test_what_stands_still_is_sent_only_when_it_changes():
    def step(show, port, evaporating):
        background = canvas.Background.once(draw, key=("still", show.system))
        level = marks.Still(evaporating, lambda: [marks.Line([0, 5e-3], [evaporating] * 2)])
        items = [level, marks.Markers([port], [evaporating])]
        return canvas.LiveFigure(background, items, show.text(port, "port"))

    panel, sent = Panel(step, controls()[:2]), []
    for piece in (panel._paper, panel._still, panel._picture):
        piece.observe(lambda change: sent.append(change["owner"]), "value")
    panel.views["port"].slider.value = 2.0
    assert sent == [panel._picture]
    panel.set(evaporating=270.0)
    assert sent == [panel._picture, panel._still, panel._picture]
    (name,) = re.findall(r'id="(lowside-still-\w+)"', panel._still.value)
    assert f'<use href="#{name}"/>' in panel._picture.value


def test_typed_reading_blank_is_not_measured(panel, steps):
    view = panel.views["suction"]
    view.entry.value = "68 psig"
    assert steps.calls[-1]["suction"] == pytest.approx(101325 + 68 * 6894.757, rel=1e-6)
    assert view.entry.value == "68 psig"
    view.entry.value = "  "
    assert steps.calls[-1]["suction"] is None
    view.entry.value = "68 °F"
    assert panel.role == "alert"
    assert view.entry.value == "68 °F"


def test_a_reading_that_cannot_be_used_is_left_out_and_the_rest_is_judged(panel, steps):
    panel.set(suction=5e5)
    panel.views["suction"].entry.value = "banana"
    assert panel.values()["suction"] is None
    assert steps.calls[-1]["suction"] is None, "the last good reading is not used in its place"
    assert "Left out until mended or cleared: ‘Suction gauge’." in panel._alert.value
    assert "banana" in panel.words
    assert "lowside-stale" not in panel._picture._dom_classes
    assert panel.figure.caption in panel._picture.value
    panel.set(port=2e-3)
    assert "Left out" in panel._alert.value, "it is said as long as it is so"
    panel.views["suction"].entry.value = "68"
    assert panel._alert.value == ""
    assert panel.role == "status"


def test_while_a_needed_field_cannot_be_used_nothing_is_judged(judged):
    panel, _ = judged
    for said in ("In order", "why it moved", "The port is", "lowside-strip"):
        assert said in panel._picture.value
    panel.views["port"].entry.value = "wide"
    assert "Not drawn anew: mend ‘Port diameter’." in panel._alert.value
    assert panel.views["port"].box._dom_classes.count("lowside-bad") == 1
    assert "lowside-stale" in panel._picture._dom_classes
    assert "svg" in panel._picture.value
    assert panel._picture.value.startswith('<div aria-hidden="true">')
    for said in ("lowside-remarks", "why it moved", 'role="status"'):
        assert said not in panel._picture.value
    panel.views["evaporating"].entry.value = "mild"
    assert "mend ‘Port diameter’ and ‘Evaporating temperature’." in panel._alert.value
    panel.reset()
    assert "In order" in panel._picture.value
    assert "lowside-bad" not in panel.views["port"].box._dom_classes


def test_other_units_show_the_last_good_state_and_keep_what_was_typed_as_it_was_meant(judged):
    panel, calls = judged
    panel.views["evaporating"].entry.value = "1000"
    panel.views["suction"].entry.value = "9999"
    panel.units.choose("metric")
    assert panel.views["evaporating"].entry.value == "1000 °F"
    assert panel.views["suction"].entry.value == "9999 psig"
    assert panel.words == (
        "‘Evaporating temperature’ is 537.8 °C; it must be between -30.0 °C and 10.0 °C."
    )
    assert calls[-1][0] == "metric"
    assert "°C" in panel._picture.value
    assert "°F" not in panel._picture.value
    panel.views["evaporating"].entry.value = "0"
    assert "Left out until mended or cleared: ‘Suction gauge’." in panel._alert.value
    assert panel.values()["evaporating"] == pytest.approx(273.15)


def test_what_the_physics_refuses_is_shown_in_the_new_units_as_it_last_was(judged):
    panel, calls = judged
    panel.set(evaporating=282.0)
    assert 'role="alert"' in panel._alert.value
    panel.units.choose("metric")
    assert panel.words.startswith("The evaporating temperature is 8.9 °C")
    assert calls[-1] == ("metric", 263.15), "the last state that could be drawn"
    assert "°F" not in panel._picture.value
    panel.units.choose(altitude=5000.0)
    assert panel._picture.value == "", "nothing is shown where even that state is refused"
    panel.units.choose(altitude=0.0)
    panel.reset()
    assert panel.role == "status"


def test_the_figure_in_words_is_folded_for_the_eye_only(panel):
    fold = next(w for w in descendants(panel.box) if isinstance(w, widgets.ToggleButton))
    assert panel.words in panel._picture.value, "a screen reader always gets it"
    assert "lowside-folded-words" in panel._picture._dom_classes
    fold.value = True
    assert "lowside-folded-words" not in panel._picture._dom_classes
    panel.set(port=2e-3)
    assert "lowside-folded-words" not in panel._picture._dom_classes, "it stays as it was left"
    fold.value = False
    assert "lowside-folded-words" in panel._picture._dom_classes


def test_the_reason_stands_right_under_the_picture(judged):
    shown = judged[0]._picture.value
    order = [shown.index(part) for part in ("</svg>", "why it moved", "lowside-strip", "The port")]
    assert order[1] > order[0]
    assert order[2] > order[1]


def test_units_change_the_words_and_not_the_physics(panel, steps):
    panel.set(suction=5e5)
    panel.views["port"].entry.value = "oops"
    before = panel.values()
    panel.units.choose("metric")
    assert panel.values() == before
    assert panel.views["port"].entry.value == "oops", "nothing typed is lost"
    assert panel.role == "alert"
    panel.views["port"].entry.value = "1.2"
    assert panel.words == "A 1.20 mm port evaporates at -10.0 °C with R290."
    assert panel.views["evaporating"].slider.min == pytest.approx(-30.0)
    assert panel.views["suction"].entry.value == "3.99 barg"
    panel.units.choose("us")
    assert panel.values() == before


def test_altitude_moves_the_gauge_and_not_the_pressure(panel):
    panel.set(suction=5e5)
    at_sea = panel.figure.readings[0][1]
    panel.units.choose(altitude=2000.0)
    assert panel.values()["suction"] == 5e5
    shown = [float(text.split()[0]) for text in (at_sea, panel.figure.readings[0][1])]
    # 79.495 kPa at 2000 m: US Standard Atmosphere 1976, table (from memory).
    assert shown[1] - shown[0] == pytest.approx((101325 - 79495) / 6894.757, abs=0.06)


def test_buttons_and_altitude_box_follow_and_answer():
    units = Units("us")
    buttons, box = units.buttons(), units.altitude_box()
    entry = box.children[0]
    buttons.value = "metric"
    assert units.show.system == "metric"
    assert entry.description.endswith("[m]")
    entry.value = "1600"
    assert units.show.altitude == pytest.approx(1600.0)
    entry.value = "5000 ft"
    assert units.show.altitude == pytest.approx(1524.0)
    entry.value = "99999"
    assert 'role="alert"' in box.children[1].value
    assert units.show.altitude == pytest.approx(1524.0)
    units.choose("us")
    assert buttons.value == "us"
    assert entry.value.startswith("5000")


def test_units_do_not_keep_a_panel_alive(steps):
    units = Units("us")
    panel = Panel(steps, controls(), units)
    follower = weakref.ref(panel)
    panel.box.close()
    for view in list(panel.views.values()):
        view.box.close()
    del panel, view
    widgets.Widget.close_all()
    gc.collect()
    assert follower() is None
    units.choose("metric")


def test_bundle_has_words_picture_and_widgets(panel):
    data, metadata = panel._repr_mimebundle_()
    assert data["text/plain"] == panel.words
    assert metadata["image/png"]["alt"] == panel.words
    assert data["image/png"].startswith("iVBOR")
    assert "application/vnd.jupyter.widget-view+json" in data


def test_every_control_has_an_accessible_name(panel):
    for widget in descendants(panel.box):
        if isinstance(widget, widgets.Text | widgets.Dropdown | widgets.RadioButtons):
            assert widget.description.strip()
        if isinstance(widget, widgets.Checkbox | widgets.Button):
            assert widget.description.strip()
    for view in panel.views.values():
        if hasattr(view, "slider"):
            assert isinstance(view.entry, widgets.Text), "a slider has a labelled box beside it"


def test_titles_and_readings_are_text_not_markup(panel):
    assert "A &lt;panel&gt;" in "".join(
        w.value for w in descendants(panel.box) if isinstance(w, widgets.HTML)
    )
    assert "<b>" not in strip([("<b>", "<b>")]).replace("&lt;b&gt;", "")
    assert paragraph("<i>", "words") == '<p class="lowside-words">&lt;i&gt;</p>'
    assert "<script>" not in listed("<script>", ["<script>"])


@pytest.mark.parametrize(("size", "step"), [(0.7, 0.5), (0.035, 0.05), (1.4, 1), (3, 2), (8, 10)])
def test_steps_are_round(size, step):
    assert _round_step(size) == step


def test_a_control_that_starts_outside_its_range_is_refused():
    with pytest.raises(OutOfRange):
        Slider("a", "A", "port", 5e-3, 1e-3, 4e-3)
    with pytest.raises(UnknownName):
        Choice("a", "A", ["x", "y"], "z")


# A page -----------------------------------------------------------------------------------------


@pytest.fixture
def page(steps):
    content = types.SimpleNamespace(
        PICTURES={
            "main": lambda show: steps(
                show, port=1e-3, evaporating=260.0, fluid="R290", suction=None
            )
        },
        PANELS={"main": lambda units: Panel(steps, controls(), units)},
    )
    return Page(EXAMPLE, Units("us"), lesson.Progress(7), content)


def cells(page):
    tasks = range(1, len(EXAMPLE.tasks) + 1)
    yield from (page.start(), page.call(), page.predict(), page.picture(), page.explore())
    for number in tasks:
        yield from (page.task(number), page.solution(number))
    yield from (page.look_back(), page.job_card(), page.sources())


def bundle(cell):
    shown = cell._repr_mimebundle_()
    return shown[0] if isinstance(shown, tuple) else shown


def test_every_cell_speaks_without_a_kernel_and_always_the_same(page, steps):
    first = [bundle(cell) for cell in cells(page)]
    again = Page(EXAMPLE, Units("us"), lesson.Progress(7), page._content)
    for one, two in zip(first, (bundle(cell) for cell in cells(again)), strict=True):
        assert one["text/plain"].strip()
        assert "object at 0x" not in one["text/plain"]
        assert "{" not in one["text/plain"]
        for kind in ("text/plain", "text/html", "image/png"):
            assert one.get(kind) == two.get(kind)


def test_every_cell_follows_the_units(page):
    shown = list(cells(page))
    before = [bundle(cell)["text/plain"] for cell in shown]
    assert any("°F" in text for text in before)
    page.units.choose("metric")
    for cell in shown:
        text = bundle(cell)["text/plain"]
        assert "°F" not in text
        assert "psig" not in text
    page.units.choose("us")
    assert [bundle(cell)["text/plain"] for cell in shown] == before


def test_start_has_goals_cautions_and_the_choices(page):
    start = page.start()
    text = bundle(start)["text/plain"]
    for line in (*EXAMPLE.goals, *EXAMPLE.cautions, str(EXAMPLE.minutes)):
        assert line in text
    names = [w.description for w in descendants(start.box) if isinstance(w, widgets.Text)]
    assert any("ltitude" in name for name in names)
    assert any("number" in name for name in names)


def test_prediction_is_recorded_once_and_comes_back(page):
    predict, back = page.predict(), page.look_back()
    predict.button.click()
    assert 'role="alert"' in predict.answer.value
    keys = list(EXAMPLE.predictions[0].options)
    predict.choice.value = keys[1]
    predict.button.click()
    assert predict.choice.disabled
    assert page.progress.predicted(EXAMPLE.number, EXAMPLE.predictions[0].key) == keys[1]
    assert "You predicted" in back.plain
    page.units.choose("metric")
    assert predict.choice.value == keys[1]
    assert page.predict().choice.disabled, "the first prediction stands"
    later = look_back(EXAMPLE, page.progress, page.units)
    assert later.plain == back.plain


def test_task_is_judged_hinted_and_recorded(page):
    question = page.task(1)
    right = question.dealt.answer_text
    question.entry.value = "no idea"
    assert 'role="alert"' in question.verdict.value
    question.entry.value = right
    assert 'role="status"' in question.verdict.value
    assert "✓" in question.verdict.value
    question.check_button.click()
    task = EXAMPLE.tasks[0].key
    kinds = [a["verdict"] for a in page.progress.answers[EXAMPLE.number][task]]
    assert kinds == ["unreadable", "right"], "the same text is recorded once"
    question.hint_button.click()
    question.hint_button.click()
    assert question.hint_button.disabled
    assert page.progress.hints[EXAMPLE.number][task] == 2
    assert question.hints.value.count("Hint") == 2


def test_a_known_slip_gets_its_own_sentence(page):
    question = page.task(1)
    key, wrong = next(iter(question.dealt.slips.items()))
    question.entry.value = page.show.text(wrong, EXAMPLE.tasks[0].kind, 3)
    sentence = next(slip.sentence for slip in EXAMPLE.tasks[0].slips if slip.key == key)
    assert sentence.split(".")[0] in question.verdict.value


def test_nothing_typed_is_answered_and_not_recorded(page):
    question = page.task(2)
    question.check_button.click()
    assert 'role="alert"' in question.verdict.value
    assert not page.progress.answers


def test_another_seed_deals_other_numbers_to_task_and_solution(page):
    question, answer = page.task(1), page.solution(1)
    before = question._words.plain, answer.plain
    page.deal("8")
    assert question._words.plain != before[0]
    assert answer.plain != before[1]
    page.deal("7")
    assert (question._words.plain, answer.plain) == before


def test_explore_brings_three_things_to_try(page):
    notes = page.explore()._notes.value
    assert notes.count("<li>") == 3


def test_a_picture_has_its_words_under_it_without_a_kernel_and_once_with_one(page, monkeypatch):
    shown = []
    monkeypatch.setattr("lowside.screens.panel.display", lambda data, **_: shown.append(data))
    picture = page.picture()
    picture._ipython_display_()
    figure, caption = shown
    assert "image/png" in figure
    assert picture.figure.words in caption["text/html"]
    assert picture._html.value.count(f">{picture.figure.words}<") == 1
    assert "application/vnd.jupyter.widget-view+json" in caption, "live, it shows nothing more"


def test_job_card_can_be_saved_and_printed(page):
    saved = page.job_card().box.children[-1].value
    assert re.search(r'download="job-card-\d\d\.html" href="data:text/html;base64,', saved)
    card = base64.b64decode(re.search(r"base64,([^\"]+)", saved).group(1)).decode("utf-8")
    assert f"<title>On the job: {EXAMPLE.card.title}</title>" in card


def test_pictures_and_lessons_that_are_not_there_are_named(page):
    with pytest.raises(UnknownName):
        page.picture("nothing")
    with pytest.raises(UnknownName):
        open_lesson("99")
    with pytest.raises(UnknownName):
        open_lesson(EXAMPLE, units="furlongs")


def test_page_opens_in_the_units_asked_for():
    page = open_lesson(EXAMPLE, units="metric", altitude=500.0)
    assert page.show == readout.choose("metric", altitude=500.0)
