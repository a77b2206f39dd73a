"""HTML printed to PDF by a Chromium or Chrome that is installed."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from pathlib import Path

from lowside.errors import LowsideError

BROWSERS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")
_PATIENCE = 120.0  # [s]
QUIET = (
    "--headless",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)


def find_browser():
    """Return the path of a Chromium, or None; LOWSIDE_BROWSER may name one off the path."""
    named = os.environ.get("LOWSIDE_BROWSER")
    return named or next(filter(None, map(shutil.which, BROWSERS)), None)


def require_browser():
    """Return the path of a Chromium.

    Raises
    ------
    LowsideError
        If there is none.
    """
    browser = find_browser()
    if browser is None:
        raise LowsideError(
            f"PDF needs a browser, and none of {', '.join(BROWSERS)} is on the path: install one, "
            "name one in LOWSIDE_BROWSER, or leave out --pdf and print the HTML files."
        )
    return browser


def print_to_pdf(path):
    """Print an HTML file to a PDF of the same name beside it.

    Parameters
    ----------
    path : Path
        The HTML file.

    Returns
    -------
    Path
        The PDF.

    Raises
    ------
    LowsideError
        If there is no browser, or it does not print.
    """
    path = Path(path).resolve()
    out = path.with_suffix(".pdf")
    out.unlink(missing_ok=True)
    rooted = hasattr(os, "geteuid") and os.geteuid() == 0
    with tempfile.TemporaryDirectory(prefix="lowside-print-", ignore_cleanup_errors=True) as work:
        command = [require_browser(), *QUIET, "--no-pdf-header-footer"]
        command += ["--no-sandbox"] if rooted else []
        command += [f"--user-data-dir={work}", f"--print-to-pdf={out}", path.as_uri()]
        try:
            subprocess.run(command, capture_output=True, timeout=_PATIENCE, check=False)
        except (OSError, subprocess.TimeoutExpired):
            out.unlink(missing_ok=True)
    if not out.exists():
        raise LowsideError(
            f"The browser ({command[0]}) did not print {path.name}: open the file and print it by "
            "hand."
        )
    return out
