"""Lesson 22 in a real JupyterLab: opened, run and used as a learner does, by keyboard."""

import re
import shutil

import lab
import pytest

pytest.importorskip("playwright", reason="the playwright package is not installed")

needs_browser = pytest.mark.skipif(
    lab.find_browser() is None,
    reason=f"no browser: none of {', '.join(lab.BROWSERS)} is on the path",
)


@pytest.fixture(scope="module")
def page(tmp_path_factory):
    """Lesson 22, run from top to bottom, in a copy of the notebooks."""
    work = tmp_path_factory.mktemp("lab")
    shutil.copytree(lab.ROOT / "notebooks", work / "notebooks")
    name = next((work / "notebooks").glob("22-*.ipynb")).name
    with (
        lab.jupyter_lab(work / "notebooks", work / "jupyter") as address,
        lab.chromium_page(work / "profile") as page,
    ):
        lab.open_notebook(page, address, name)
        lab.run_all(page)
        yield page


@pytest.fixture
def panel(page):
    found = page.locator(".lowside-panel").filter(has=page.get_by_label("Port [mm]", exact=True))
    found.first.scroll_into_view_if_needed()
    settle(page)
    return found.first


def settle(page):
    """Wait until nothing that moves has moved for a third of a second."""
    page.evaluate("window.lowsideSeen = ''; window.lowsideSince = performance.now();")
    page.wait_for_function(
        """() => {
            const seen = [...document.querySelectorAll('.lowside-panel .lowside-words')]
                .map(p => p.textContent).join()
                + [...document.querySelectorAll('.lowside-panel input')].map(i => i.value).join();
            if (seen !== window.lowsideSeen) {
                window.lowsideSeen = seen;
                window.lowsideSince = performance.now();
            }
            return performance.now() - window.lowsideSince > 333;
        }"""
    )


def words(panel):
    return panel.locator("[role=status].lowside-words").inner_text()


@needs_browser
def test_every_cell_runs_without_an_error(page):
    errors = page.locator("[data-mime-type='application/vnd.jupyter.error']")
    errors = errors.or_(page.locator("[data-mime-type='application/vnd.jupyter.stderr']"))
    assert errors.all_inner_texts() == []
    assert page.locator("svg.lowside-picture[role=img]").count() >= 2


@needs_browser
def test_arrow_keys_on_the_port_move_picture_and_words(panel):
    before, picture = words(panel), panel.locator("svg.lowside-picture")
    drawn = picture.inner_html()
    handle = panel.locator(".lowside-control", has_text="Port [mm]").locator("[role=slider]")
    handle.focus()
    for _ in range(3):
        handle.press("ArrowRight")
    panel.locator("[role=status].lowside-words").filter(has_not_text=before).wait_for()
    after = words(panel)
    assert re.search(r"\d", after)
    assert after != before
    assert picture.inner_html() != drawn
    assert picture.get_attribute("aria-label").startswith(after[:40])


@needs_browser
def test_a_silly_port_is_answered_in_words_and_a_sensible_one_heals_it(panel):
    entry = panel.get_by_label("Port [mm]", exact=True)
    before = entry.input_value()
    entry.fill("as big as it gets")
    entry.press("Enter")
    alert = panel.get_by_role("alert")
    alert.first.wait_for()
    assert "as big as it gets" in alert.first.inner_text()
    assert entry.input_value() == "as big as it gets"
    entry.fill(before)
    entry.press("Enter")
    alert.first.wait_for(state="detached")


@needs_browser
def test_other_units_reach_every_picture(page, panel):
    shown = page.locator(".lowside-words")
    assert "psig" in " ".join(shown.all_inner_texts())
    panel.get_by_role("button", name="°C · bar").click()
    panel.locator("[role=status].lowside-words", has_text="°C").wait_for()
    page.wait_for_function(
        "() => ![...document.querySelectorAll('.lowside-words')]"
        ".some(p => p.textContent.includes('psig'))"
    )
    panel.get_by_role("button", name="°F · psig").click()
    panel.locator("[role=status].lowside-words", has_text="°F").wait_for()


@needs_browser
def test_a_task_is_answered_on_the_page(page):
    question = page.locator(".lowside-plain").filter(
        has=page.get_by_role("button", name="Check", exact=True)
    )
    first = question.first
    first.scroll_into_view_if_needed()
    first.get_by_role("textbox").fill("seven")
    first.get_by_role("button", name="Check", exact=True).click()
    first.get_by_role("alert").first.wait_for()
    first.get_by_role("button", name="Hint", exact=True).click()
    first.get_by_text("Hint 1").wait_for()
