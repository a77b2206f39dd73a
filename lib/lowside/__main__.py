"""`lowside` or `python -m lowside`: open JupyterLab on the front page."""

import os
import sys
from pathlib import Path

FRONT_PAGE = "00-start-here.ipynb"


def main():
    """Start JupyterLab on the front page; further arguments go to JupyterLab unchanged."""
    checkout = Path(__file__).parents[2]
    front = checkout / "notebooks" / FRONT_PAGE
    if not front.exists():
        sys.exit(
            f"The lessons are not beside the library ({front} is missing): "
            "clone the repository, install it with `pip install -e .` and start again."
        )
    settings = str(checkout / "binder")
    known = os.environ.get("JUPYTER_CONFIG_PATH")
    os.environ["JUPYTER_CONFIG_PATH"] = os.pathsep.join([settings, known] if known else [settings])
    os.chdir(front.parent)

    from jupyterlab.labapp import main as lab

    sys.exit(lab([FRONT_PAGE, *sys.argv[1:]]))


if __name__ == "__main__":
    main()
