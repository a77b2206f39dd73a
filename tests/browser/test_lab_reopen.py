"""A lesson that was run, saved and closed still shows its figures and words the day after."""

import json
import os
import re
import shutil
import subprocess
import sys
import time
import urllib.request

import lab
import pytest

LESSON = "10-pressure-heat-and-the-dome.ipynb"

pytest.importorskip("playwright", reason="the playwright package is not installed")

needs_browser = pytest.mark.skipif(
    lab.find_browser() is None,
    reason=f"no browser: none of {', '.join(lab.BROWSERS)} is on the path",
)


def end_kernels(login):
    """Shut every kernel down, as closing the lab overnight does."""
    base, token = login.split("/lab?token=")
    key = {"Authorization": f"token {token}"}
    sessions = urllib.request.Request(f"{base}/api/sessions", headers=key)
    with urllib.request.urlopen(sessions) as answer:
        found = json.load(answer)
    for session in found:
        end = urllib.request.Request(
            f"{base}/api/sessions/{session['id']}", headers=key, method="DELETE"
        )
        urllib.request.urlopen(end).close()
    return len(found)


def saved_with_widgets(path):
    """Whether the file holds widget state; False while it is being written."""
    try:
        return "widgets" in json.loads(path.read_text("utf-8"))["metadata"]
    except json.JSONDecodeError:
        return False


@needs_browser
def test_a_saved_lesson_is_not_dead_when_reopened(tmp_path):
    notebooks = tmp_path / "notebooks"
    shutil.copytree(lab.ROOT / "notebooks", notebooks)
    served = lab.jupyter_lab(notebooks, tmp_path / "jupyter")
    with served as address, lab.chromium_page(tmp_path / "profile", 390, 844) as page:
        workspace = lab.ROOT / "binder" / "workspace.json"
        subprocess.run(
            [sys.executable, "-m", "jupyterlab", "workspaces", "import", workspace],
            env={**os.environ, "JUPYTER_CONFIG_DIR": str(tmp_path / "jupyter" / "config")},
            check=True,
            capture_output=True,
        )
        login, tree = address
        address = login, tree.replace("/lab/tree/", "/lab/workspaces/lowside/tree/")
        lab.open_notebook(page, address, LESSON)
        width = page.locator(".jp-Notebook").bounding_box()["width"]
        assert width > 280, "on a phone the side bars must not take the page"
        lab.run_all(page)
        page.locator(".lowside-panel svg[role=img]").first.wait_for()
        page.keyboard.press("Control+s")
        deadline = time.monotonic() + 20
        while not saved_with_widgets(notebooks / LESSON) and time.monotonic() < deadline:
            page.wait_for_timeout(200)
        assert saved_with_widgets(notebooks / LESSON)
        assert end_kernels(login) == 1
        page.goto("about:blank")
        lab.open_notebook(page, address, LESSON)
        page.locator(".lowside-panel svg[role=img]").first.wait_for()
        assert page.get_by_text("model not found").count() == 0
        assert page.get_by_text("Pressure-enthalpy diagram of R290").count() >= 1


def test_the_start_command_serves_the_front_page(tmp_path):
    environment = {
        **os.environ,
        "JUPYTER_CONFIG_DIR": str(tmp_path / "config"),
        "JUPYTER_RUNTIME_DIR": str(tmp_path / "runtime"),
        "JUPYTER_DATA_DIR": str(tmp_path / "data"),
    }
    command = [sys.executable, "-m", "lowside", "--no-browser", "--allow-root"]
    command += [f"--ServerApp.port={lab.free_port()}", "--IdentityProvider.token=front"]
    log = tmp_path / "log"
    with log.open("w") as sink:
        server = subprocess.Popen(
            command, env=environment, stdout=sink, stderr=sink, start_new_session=True
        )
    try:
        deadline = time.monotonic() + 60
        said = None
        while said is None and time.monotonic() < deadline and server.poll() is None:
            time.sleep(0.2)
            said = re.search(r"http://127\.0\.0\.1:\d+(/\S+)\?token", log.read_text())
        assert said, log.read_text()
        assert said[1] == "/lab/workspaces/lowside/tree/00-start-here.ipynb"
        base = said[0].split("/lab/")[0]
        with urllib.request.urlopen(f"{base}{said[1]}?token=front") as answer:
            assert answer.status == 200
        with urllib.request.urlopen(f"{base}/files/00-start-here.ipynb?token=front") as answer:
            assert "Start here" in answer.read().decode("utf-8")
    finally:
        lab.end(server)
