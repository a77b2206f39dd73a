"""`lowside` or `python -m lowside`: open JupyterLab on the front page."""

import os
import subprocess
import sys
from pathlib import Path

FRONT_PAGE = "00-start-here.ipynb"
WORKSPACE = "lowside"  # the id in binder/workspace.json: side bars folded away


def main():
    """Start JupyterLab on the front page; further arguments go to JupyterLab unchanged."""
    checkout = Path(__file__).parents[2]
    front = checkout / "notebooks" / FRONT_PAGE
    if not front.exists():
        sys.exit(
            f"The lessons are not beside the library ({front} is missing): "
            "clone the repository, install it with `pip install -e .` and start again."
        )
    settings = checkout / "binder"
    known = os.environ.get("JUPYTER_CONFIG_PATH")
    paths = [str(settings), known] if known else [str(settings)]
    os.environ["JUPYTER_CONFIG_PATH"] = os.pathsep.join(paths)
    os.chdir(front.parent)
    subprocess.run(
        [sys.executable, "-m", "jupyterlab", "workspaces", "import", settings / "workspace.json"],
        check=True,
        capture_output=True,
    )

    from jupyterlab.labapp import main as lab

    start = f"--LabApp.default_url=/lab/workspaces/{WORKSPACE}/tree/{FRONT_PAGE}"
    sys.exit(lab([start, *sys.argv[1:]]))


if __name__ == "__main__":
    main()
