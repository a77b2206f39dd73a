"""`lowside` or `python -m lowside`: open JupyterLab on the front page.

`lowside handouts --to FOLDER` writes lessons and job cards for paper; `lowside class` shows lessons
as clean pages without code. Anything else goes to JupyterLab unchanged.
"""

import argparse
import importlib.util
import os
import subprocess
import sys
from pathlib import Path

from lowside.errors import LowsideError, UnknownName

CHECKOUT = Path(__file__).parents[2]
SETTINGS = CHECKOUT / "binder"
NOTEBOOKS = CHECKOUT / "notebooks"
FRONT_PAGE = "00-start-here.ipynb"
WORKSPACE = "lowside"  # the id in binder/workspace.json: side bars folded away


def main():
    """Do what the first argument says, by default start JupyterLab on the front page."""
    if not (NOTEBOOKS / FRONT_PAGE).exists():
        sys.exit(
            f"The lessons are not beside the library ({NOTEBOOKS / FRONT_PAGE} is missing): "
            "clone the repository, install it with `pip install -e .` and start again."
        )
    commands = {"handouts": handouts, "class": class_pages}
    command, *arguments = sys.argv[1:] or [""]
    try:
        if command in commands:
            commands[command](arguments)
        else:
            lab(sys.argv[1:])
    except LowsideError as error:
        sys.exit(str(error))


def lab(arguments):
    """Start JupyterLab on the front page; arguments go to JupyterLab unchanged."""
    _use_settings()
    os.chdir(NOTEBOOKS)
    subprocess.run(
        [sys.executable, "-m", "jupyterlab", "workspaces", "import", SETTINGS / "workspace.json"],
        check=True,
        capture_output=True,
    )

    from jupyterlab.labapp import main as start_lab

    start = f"--LabApp.default_url=/lab/workspaces/{WORKSPACE}/tree/{FRONT_PAGE}"
    sys.exit(start_lab([start, *arguments]))


def handouts(arguments):
    """Write lessons and job cards as files for paper."""
    from lowside import handouts

    parser = argparse.ArgumentParser(
        "lowside handouts", description=handouts.write.__doc__.splitlines()[0]
    )
    parser.add_argument("--to", metavar="FOLDER", required=True)
    parser.add_argument("--lesson", metavar="NN", action="append", help="only this (repeatable)")
    parser.add_argument("--instructor", action="store_true", help="with the answers")
    parser.add_argument("--pdf", action="store_true", help="print each to PDF too (needs Chromium)")
    parser.add_argument("--units", choices=("us", "metric"), default="us")
    given = parser.parse_args(arguments)
    written = handouts.write(given.to, given.lesson, given.instructor, given.pdf, given.units)
    print(f"{len(written)} files; open {written[0]}")


def class_pages(arguments):
    """Serve lessons as clean pages without code; further arguments go to Voilà unchanged."""
    parser = argparse.ArgumentParser("lowside class", description=class_pages.__doc__)
    parser.add_argument("lesson", metavar="NN", nargs="?", default=FRONT_PAGE[:2])
    given, others = parser.parse_known_args(arguments)
    files = {path.name[:2]: path.name for path in sorted(NOTEBOOKS.glob("[0-9]*.ipynb"))}
    if given.lesson not in files:
        raise UnknownName("lesson", given.lesson, files)
    if importlib.util.find_spec("voila") is None:
        raise LowsideError('Pages without code need one more package: pip install -e ".[class]".')
    _use_settings()

    from voila.app import main as serve

    page = f"voila/render/{files[given.lesson]}"
    print(f"The lesson is at /{page} of the address below; Ctrl+C ends it.", flush=True)
    sys.exit(serve([str(NOTEBOOKS), *others]))


def _use_settings():
    """Let Jupyter find the settings, and the page's template, of binder/."""
    for name in ("JUPYTER_CONFIG_PATH", "JUPYTER_PATH"):
        known = os.environ.get(name)
        os.environ[name] = os.pathsep.join([str(SETTINGS), *([known] if known else [])])


if __name__ == "__main__":
    main()
