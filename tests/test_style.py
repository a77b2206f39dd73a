"""The code keeps to the rules of pyproject.toml, and the docstrings to the house's."""

import inspect
import subprocess
import sys
from importlib import import_module
from pathlib import Path

import pytest
from test_floors import FLOORS

ROOT = Path(__file__).parents[1]
LIB = ROOT / "lib" / "lowside"
PHYSICS = sorted({"refrigerants", "units", *FLOORS[3], *FLOORS[4], *FLOORS[5]})


def test_ruff_finds_nothing():
    command = [sys.executable, "-m", "ruff", "check", "--no-cache", "lib", "tests", ".ci"]
    found = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert found.returncode == 0, found.stdout


def public_functions():
    """Functions that a room offers: its ``__all__``, or all that it defines by a public name."""
    for name in PHYSICS:
        if not (LIB / name).is_dir() and not (LIB / f"{name}.py").exists():
            continue
        room = import_module(f"lowside.{name}")
        for offered in getattr(room, "__all__", dir(room)):
            thing = getattr(room, offered)
            ours = getattr(thing, "__module__", "").startswith(room.__name__)
            if inspect.isfunction(thing) and ours and not offered.startswith("_"):
                yield pytest.param(thing, id=f"{name}.{offered}")


@pytest.mark.parametrize("function", list(public_functions()))
def test_public_functions_say_all_their_arguments(function):
    doc = inspect.getdoc(function) or ""
    missing = [name for name in inspect.signature(function).parameters if name not in doc]
    assert doc
    assert not missing, f"{function.__name__} says nothing of {', '.join(missing)}"
