"""The code keeps to the rules of pyproject.toml, and the docstrings to the house's."""

import ast
import subprocess
import sys
from pathlib import Path

import pytest
from test_floors import FLOORS

ROOT = Path(__file__).parents[1]
LIB = ROOT / "lib" / "lowside"
PHYSICS = {"refrigerants", "units"} | FLOORS[3] | FLOORS[4] | FLOORS[5]


def test_ruff_finds_nothing():
    command = [sys.executable, "-m", "ruff", "check", "--no-cache", "lib", "tests", ".ci"]
    found = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert found.returncode == 0, found.stdout


def physics_files():
    for path in sorted(LIB.rglob("*.py")):
        if path.relative_to(LIB).parts[0].removesuffix(".py") in PHYSICS:
            yield path


@pytest.mark.parametrize("path", physics_files(), ids=lambda p: p.relative_to(LIB).as_posix())
def test_public_functions_say_their_parameters_with_units(path):
    """Every argument of a public function is in its docstring, and some unit in [brackets]."""
    for node in ast.parse(path.read_text(encoding="utf-8")).body:
        if not isinstance(node, ast.FunctionDef) or node.name.startswith("_"):
            continue
        doc = ast.get_docstring(node) or ""
        assert doc, f"{path.name}: {node.name} has no docstring"
        names = [a.arg for a in (*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs)]
        missing = [name for name in names if name not in doc]
        assert not missing, f"{path.name}: {node.name} says nothing of {', '.join(missing)}"
        if names:
            assert "Returns" in doc or "Yields" in doc or "[" in doc, f"{path.name}: {node.name}"
