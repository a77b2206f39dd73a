"""A whole service call in a real JupyterLab, at the size of a phone: one won, one lost."""

import shutil

import lab
import pytest
from lowside import cases
from lowside.lesson.l54_places import places

pytest.importorskip("playwright", reason="the playwright package is not installed")

needs_browser = pytest.mark.skipif(
    lab.find_browser() is None,
    reason=f"no browser: none of {', '.join(lab.BROWSERS)} is on the path",
)


@pytest.fixture(scope="module")
def page(tmp_path_factory):
    """Lesson 54, run from top to bottom, in a copy of the notebooks."""
    work = tmp_path_factory.mktemp("lab")
    shutil.copytree(lab.ROOT / "notebooks", work / "notebooks")
    name = next((work / "notebooks").glob("54-*.ipynb")).name
    with (
        lab.jupyter_lab(work / "notebooks", work / "jupyter") as address,
        lab.chromium_page(work / "profile") as page,
    ):
        lab.open_notebook(page, address, name)
        lab.run_all(page)
        page.set_viewport_size({"width": 390, "height": 844})
        yield page


def take(page, seed):
    """Begin the first call of a seed, and give the panel."""
    panel = page.locator(".lowside-panel").filter(
        has=page.get_by_role("button", name="Do it", exact=True)
    )
    panel.scroll_into_view_if_needed()
    entry = panel.get_by_label("Seed", exact=True)
    if not entry.is_visible():
        panel.get_by_text("Another call", exact=True).click()
    entry.fill(seed)
    entry.press("Enter")
    panel.get_by_role("button", name="Take this call", exact=True).click()
    panel.locator("[role=status]", has_text="0 min on site").wait_for()
    return panel


def act(page, panel, key, value=None):
    """Choose an act from the two lists as a learner does, and do it."""
    done = panel.locator(".lowside-log li").count()
    chosen = cases.act(key)
    panel.get_by_label("What to do", exact=True).select_option(chosen.kind.capitalize())
    label = f"{chosen.label} ({chosen.minutes:.0f} min)"
    which = panel.get_by_label("Which", exact=True)
    which.locator("option", has_text=label).first.wait_for(state="attached")
    which.select_option(label)
    if chosen.asks == "charge":
        entry = panel.get_by_label("Refrigerant by weight [oz]", exact=True)
        entry.fill(f"{1000.0 * value:.2f} g")
        entry.press("Tab")
    panel.get_by_role("button", name="Do it", exact=True).click()
    panel.locator(".lowside-log li").nth(done).wait_for()


@needs_browser
def test_a_call_is_won(page):
    seed = "1"
    panel = take(page, seed)
    best = cases.shortest(cases.deal(seed, "first", places()), places())
    for entry in best.entries:
        act(page, panel, entry.act.key, entry.value)
    panel.locator(".lowside-outcome", has_text="Won").wait_for()
    assert "It was:" in panel.inner_text()
    panel.get_by_role("link", name="Save the debrief to print it").wait_for()
    wide = page.evaluate("document.documentElement.scrollWidth")
    assert wide <= 390


@needs_browser
def test_a_call_is_lost_by_a_hand_in_a_live_fan(page):
    panel = take(page, "2")
    act(page, panel, "clean_condenser")
    outcome = panel.locator(".lowside-outcome", has_text="Stopped")
    outcome.wait_for()
    assert "Lock it out" in outcome.inner_text()
    panel.locator("button:disabled", has_text="Do it").wait_for()
