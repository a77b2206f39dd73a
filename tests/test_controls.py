"""Every control of every notebook, moved through its range and through what people mistype.

Nothing may raise, no picture and no sentence may show a NaN, and what cannot be used is answered
in words. Callbacks run here in process, so an exception in one fails the test.
"""

import ast
import gc
import math
import re
from pathlib import Path

import ipywidgets as widgets
import nbformat
import pytest
from lowside.screens.panel import Panel

NOTEBOOKS = sorted((Path(__file__).parents[1] / "notebooks").glob("*.ipynb"))

MISTYPED = [
    "",
    "   ",
    "abc",
    "NaN",
    "inf",
    "1e400",
    "-99999",
    "99999999",
    "12 13",
    "68 kg",
    "5 parsec",
    "½½",
    "1,2,3",
    "=1+1",
    "<b>68</b> psig",
    "68 psig" * 50,
]
SENSIBLE = ["٣", "68 psig", "-4F", "3,5 °C", "1 1/2 oz", "12 inHg", "20 K", "3/8 in", "40"]
OWN_NUMBER = "Your number, for your own questions"  # goes back to the last one that could be used
NOT_A_NUMBER = re.compile(r"\b(nan|inf|None)\b", re.IGNORECASE)
QUOTED = re.compile(r"“[^”]*”")  # what a person typed, repeated in an answer


def run(path):
    """Run a notebook's code cells and return everything they show."""
    namespace, shown = {}, []
    for cell in nbformat.read(path, as_version=4).cells:
        if cell.cell_type != "code":
            continue
        tree = ast.parse(cell.source)
        last = tree.body.pop() if tree.body and isinstance(tree.body[-1], ast.Expr) else None
        exec(compile(tree, path.name, "exec"), namespace)
        if last is not None:
            shown.append(eval(compile(ast.Expression(last.value), path.name, "eval"), namespace))
    return namespace, shown


def descendants(widget):
    yield widget
    for child in getattr(widget, "children", ()):
        yield from descendants(child)


def live(kind, shown):
    """All widgets of a kind that are on the page now."""
    found = []
    for thing in shown:
        box = thing if isinstance(thing, widgets.Widget) else getattr(thing, "box", None)
        if box is not None:
            found += [w for w in descendants(box) if isinstance(w, kind) and w not in found]
    return found


def panels_of(shown):
    boxes = {id(box) for box in live(widgets.Widget, shown)}
    return [p for p in gc.get_objects() if isinstance(p, Panel) and id(p.box) in boxes]


def everything_said(shown):
    return "\n".join(html.value for html in live(widgets.HTML, shown))


def check(shown, panels, did):
    for panel in panels:
        assert panel.role in ("status", "alert"), did
        assert panel.words.strip(), did
        assert not NOT_A_NUMBER.search(QUOTED.sub("", panel.words)), f"{did}: {panel.words}"
        overlay = panel.figure.overlay()
        assert not re.search(r"[\"\s,](nan|inf)\b", overlay, re.IGNORECASE), did
        for reading in panel.figure.readings:
            assert not NOT_A_NUMBER.search(" ".join(map(str, reading))), f"{did}: {reading}"
    said = everything_said(shown)
    assert "Traceback" not in said, did
    assert "<b>68</b>" not in said, f"{did}: what a person types is shown as text, not as markup"


@pytest.fixture(scope="module", params=NOTEBOOKS, ids=lambda p: p.stem)
def page(request):
    namespace, shown = run(request.param)
    return namespace, shown, panels_of(shown)


def test_has_something_to_move_or_is_the_front_page(page):
    _, shown, panels = page
    assert shown
    assert panels or live(widgets.ToggleButtons, shown)


def test_sliders_through_their_range(page):
    _, shown, panels = page
    for slider in live(widgets.FloatSlider, shown):
        before = slider.value
        for share in (0.0, 0.07, 0.31, 0.5, 0.77, 0.93, 1.0):
            slider.value = slider.min + share * (slider.max - slider.min)
            check(shown, panels, f"slider {slider.tooltip} at {slider.value}")
        slider.value = before


def test_all_sliders_together_at_their_corners(page):
    _, shown, panels = page
    for panel in panels:
        for seed in range(40):
            values = {}
            for number, (name, control) in enumerate(panel.controls.items()):
                if hasattr(control, "step"):
                    high = (seed >> (number % 6)) & 1 if seed < 32 else math.sin(seed * number) > 0
                    values[name] = control.high if high else control.low
            panel.set(**values)
            check(shown, [panel], f"corner {values}")
        panel.reset()
        assert panel.role == "status", panel.words


def test_choices(page):
    _, shown, panels = page
    for kind in (widgets.Dropdown, widgets.RadioButtons, widgets.ToggleButtons):
        for choice in live(kind, shown):
            before = choice.value
            for _, value in choice._options_full:
                choice.value = value
                check(shown, panels, f"{choice.description} = {value}")
            choice.value = before
    for box in live(widgets.Checkbox, shown):
        for _ in range(2):
            box.value = not box.value
            check(shown, panels, f"{box.description} = {box.value}")


def test_what_people_mistype_is_answered_and_nothing_is_lost(page):
    _, shown, panels = page
    for entry in live(widgets.Text, shown):
        before = entry.value
        for text in MISTYPED + SENSIBLE:
            entry.value = text
            check(shown, panels, f"{entry.description} = {text!r}")
            kept = entry.value == text or text in SENSIBLE or entry.description == OWN_NUMBER
            assert kept, "what was typed stays to be mended"
        entry.value = before
        check(shown, panels, f"{entry.description} back to {before!r}")
    for panel in panels:
        panel.reset()
        assert panel.role == "status"


def test_letters_in_a_number_get_a_sentence(page):
    panels = page[2]
    for panel in panels:
        for name, view in list(panel.views.items()):
            if isinstance(view.entry, widgets.Text):
                view.entry.value = "abc"
                assert panel.role == "alert"
                assert "abc" in panel.words
                assert len(re.findall(r"\.(?!\d)", panel.words)) <= 4, (
                    "no more than a few sentences"
                )
                assert panel.views[name].problem.value
                panel.reset()


def test_buttons(page):
    _, shown, panels = page
    for button in live(widgets.Button, shown):
        button.click()
        check(shown, panels, f"button {button.description}")


def test_units_and_altitude_change_every_panel(page):
    _, shown, panels = page
    for panel in panels:
        panel.reset()
    for toggle in [t for t in live(widgets.ToggleButtons, shown) if "us" in t._options_values][:1]:
        toggle.value = "us"
        in_us = [panel.words for panel in panels]
        values = [panel.values() for panel in panels]
        toggle.value = "metric"
        for panel, words, before in zip(panels, in_us, values, strict=True):
            assert panel.words != words
            assert panel.values() == before, "changing units must not change the physics"
            assert "psig" not in panel.words
            assert "°F" not in panel.words
        toggle.value = "us"
        assert [panel.words for panel in panels] == in_us
