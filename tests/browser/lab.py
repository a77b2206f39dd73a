"""Start JupyterLab and a Chromium to look at it, and leave nothing behind.

Nothing here needs the network. Playwright's own browser is not used: Debian's chromium (or any
Chrome that is installed) is.
"""

from __future__ import annotations

import json
import os
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from contextlib import contextmanager
from pathlib import Path

from lowside.handouts.paper import BROWSERS, QUIET, find_browser  # noqa: F401 (BROWSERS: for tests)

ROOT = Path(__file__).parents[2]
FLAGS = [*QUIET, "--no-sandbox"]


def free_port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


@contextmanager
def jupyter_lab(folder, work, patience=90.0):
    """Serve JupyterLab on a folder; yields its address, with the token in it.

    `work` is an empty temporary folder for everything that Jupyter writes by itself.
    """
    port, work = free_port(), Path(work)
    token = os.urandom(16).hex()
    environment = {
        **os.environ,
        "JUPYTER_CONFIG_DIR": str(work / "config"),
        "JUPYTER_CONFIG_PATH": str(ROOT / "binder"),
        "JUPYTER_RUNTIME_DIR": str(work / "runtime"),
        "JUPYTER_DATA_DIR": str(work / "data"),
        "IPYTHONDIR": str(work / "ipython"),
        "PYTHONPATH": os.pathsep.join(
            filter(None, [str(ROOT / "lib"), os.environ.get("PYTHONPATH")])
        ),
    }
    for name in ("config", "runtime", "data", "ipython"):
        (work / name).mkdir(parents=True)
    command = [sys.executable, "-m", "jupyterlab", "--no-browser", "--ServerApp.ip=127.0.0.1"]
    command += [f"--ServerApp.port={port}", "--ServerApp.port_retries=0", "--allow-root"]
    command += [f"--IdentityProvider.token={token}", f"--ServerApp.root_dir={folder}"]
    log = work / "server.log"
    with log.open("w") as sink:
        server = subprocess.Popen(
            command,
            cwd=folder,
            env=environment,
            stdout=sink,
            stderr=subprocess.STDOUT,
            start_new_session=True,
        )
    try:
        _wait_for(port, token, server, log, patience)
        yield f"http://127.0.0.1:{port}/lab?token={token}", f"http://127.0.0.1:{port}/lab/tree/"
    finally:
        end(server)


def _wait_for(port, token, server, log, patience):
    request = urllib.request.Request(
        f"http://127.0.0.1:{port}/api/status", headers={"Authorization": f"token {token}"}
    )
    deadline = time.monotonic() + patience
    while time.monotonic() < deadline:
        if server.poll() is not None:
            break
        try:
            with urllib.request.urlopen(request, timeout=2) as answer:
                json.load(answer)
                return
        except OSError:
            time.sleep(0.2)
    raise RuntimeError(f"JupyterLab did not start:\n{log.read_text()[-2000:]}")


def end(server):
    if os.name == "nt":
        server.terminate()
    else:
        for sign in (signal.SIGTERM, signal.SIGKILL):
            try:
                os.killpg(server.pid, sign)
            except ProcessLookupError:
                break
            try:
                server.wait(8)
                break
            except subprocess.TimeoutExpired:
                continue
    server.wait(5)


@contextmanager
def chromium_page(profile, width=1280, height=900):
    """Open a browser page with a fresh profile."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as player:
        context = player.chromium.launch_persistent_context(
            str(profile),
            executable_path=find_browser(),
            headless=True,
            args=FLAGS,
            viewport={"width": width, "height": height},
        )
        try:
            page = context.pages[0] if context.pages else context.new_page()
            page.set_default_timeout(30_000)
            yield page
        finally:
            context.close()


def open_notebook(page, address, name):
    """Open a notebook in the lab and wait until its kernel is idle."""
    login, tree = address
    page.goto(login)
    page.goto(tree + name)
    page.locator(".jp-Notebook .jp-Cell").first.wait_for()
    wait_until_idle(page)


def run_all(page, patience=120.0):
    """Run every cell through the menu, as a person does, and wait for the last one."""
    page.get_by_role("menuitem", name="Run", exact=True).click()
    page.get_by_role("menuitem", name="Run All Cells", exact=True).click()
    wait_until_run(page, patience)


def wait_until_idle(page, patience=60.0):
    page.locator("#jp-main-statusbar", has_text="| Idle").wait_for(timeout=patience * 1e3)


def wait_until_run(page, patience=120.0):
    """Wait until every code cell has a number; folded ones show none and are not asked.

    A cell that fails stops the rest, so its error is raised here instead of waiting in vain.
    """
    answer = page.wait_for_function(
        """() => {
            const failed = document.querySelector(
                "[data-mime-type='application/vnd.jupyter.error']");
            if (failed) { return failed.textContent; }
            const prompts = [...document.querySelectorAll(
                '.jp-CodeCell .jp-InputPrompt')].map(p => p.textContent).filter(p => p);
            return prompts.length > 0 && prompts.every(p => /\\[\\d+\\]/.test(p)) && 'all run';
        }""",
        timeout=patience * 1e3,
    ).json_value()
    if answer != "all run":
        raise RuntimeError(f"A cell failed:\n{answer[-3000:]}")
    wait_until_idle(page, patience)
