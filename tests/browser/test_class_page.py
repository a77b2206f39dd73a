"""A lesson as a clean page without code (`lowside class`), on a phone and on a projector."""

import subprocess
import sys
import time
import urllib.request

import lab
import pytest

pytest.importorskip("playwright", reason="the playwright package is not installed")
pytest.importorskip("voila", reason="voila is not installed")

needs_browser = pytest.mark.skipif(
    lab.find_browser() is None,
    reason=f"no browser: none of {', '.join(lab.BROWSERS)} is on the path",
)
PATIENCE = 90.0  # [s]


@pytest.fixture(scope="module")
def address(tmp_path_factory):
    """The address of lesson 22, served by the command that a teacher types."""
    port, log = lab.free_port(), tmp_path_factory.mktemp("class") / "server.log"
    command = [sys.executable, "-m", "lowside", "class", "22", f"--port={port}", "--no-browser"]
    with log.open("w") as sink:
        server = subprocess.Popen(
            command, stdout=sink, stderr=subprocess.STDOUT, start_new_session=True
        )
    try:
        wait_for(f"http://127.0.0.1:{port}/", server, log)
        lesson = next((lab.ROOT / "notebooks").glob("22-*.ipynb")).name
        yield f"http://127.0.0.1:{port}/voila/render/{lesson}"
    finally:
        lab.end(server)


def wait_for(address, server, log):
    deadline = time.monotonic() + PATIENCE
    while time.monotonic() < deadline and server.poll() is None:
        try:
            urllib.request.urlopen(address, timeout=2).close()
            return
        except OSError:
            time.sleep(0.2)
    raise RuntimeError(f"Voilà did not start:\n{log.read_text()[-2000:]}")


@needs_browser
def test_a_page_for_the_class(address, tmp_path):
    from playwright.sync_api import expect

    with lab.chromium_page(tmp_path / "profile", 390, 844) as page:
        asked = []
        page.on("request", lambda request: asked.append(request.url))
        page.goto(address, timeout=PATIENCE * 1e3)
        panel = page.locator(".lowside-panel").filter(has=page.get_by_label("Port [mm]")).first
        panel.wait_for(timeout=PATIENCE * 1e3)
        page.locator(".lowside-next").wait_for(timeout=PATIENCE * 1e3)

        here = (address.partition("/voila/")[0], "data:", "blob:")
        assert not [url for url in asked if not url.startswith(here)], "nothing from outside"
        assert page.locator(".jp-CodeMirrorEditor, .highlight").count() == 0, "no code"
        assert page.locator("math").count() >= 4
        assert page.evaluate("document.documentElement.scrollWidth") <= 390

        words = panel.locator("[role=status].lowside-words")
        before = words.inner_text()
        entry = panel.get_by_label("Port [mm]", exact=True).and_(page.locator("input"))
        entry.fill("4")
        entry.press("Enter")
        expect(words).not_to_have_text(before, timeout=20_000)
        assert "4.00 mm" in words.inner_text()

        page.set_viewport_size({"width": 1920, "height": 1080})
        page.wait_for_timeout(500)
        assert page.evaluate("document.documentElement.scrollWidth") <= 1920
        assert panel.bounding_box()["width"] > 1400, "a projector's picture fills the screen"
