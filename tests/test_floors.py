"""Each room may import only from rooms on lower floors (DEVELOPERS.md, "The floors")."""

import ast
from pathlib import Path

import pytest

LIB = Path(__file__).parents[1] / "lib" / "lowside"

FLOORS = [
    {"errors"},
    {"units", "store", "water", "textfile"},
    {"refrigerants", "readout"},
    {
        "cycle",
        "compressor",
        "valve",
        "captube",
        "coils",
        "readings",
        "load",
        "drier",
        "joint",
        "flammability",
    },
    {"charge"},
    {"system"},
    {"faults", "hunting", "kit"},
    {"diagnosis", "identify", "carry", "cases", "trend", "checks"},
    {"lesson", "plots"},
    {"screens"},
    {"handouts"},
]
FLOOR = {room: number for number, rooms in enumerate(FLOORS) for room in rooms}

# Packages that only one room may import, wherever in the room's code the import stands.
ONLY_IN = {
    "CoolProp": {"refrigerants"},
    "ipywidgets": {"screens"},
    "matplotlib": {"plots"},
}


def room_of(path):
    part = path.relative_to(LIB).parts[0]
    return part.removesuffix(".py")


def imports(path):
    """Top-level package and, for our own, the room of every import in a file."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield alias.name.split(".")
        elif isinstance(node, ast.ImportFrom):
            if node.level:
                base = ["lowside", *path.relative_to(LIB).parts[:-1]]
                base = base[: len(base) - node.level + 1]
            else:
                base = []
            base += node.module.split(".") if node.module else []
            for alias in node.names:
                yield [*base, alias.name]


def files():
    return sorted(p for p in LIB.rglob("*.py") if p.parent != LIB or not p.name.startswith("__"))


@pytest.mark.parametrize("path", files(), ids=lambda p: p.relative_to(LIB).as_posix())
def test_imports_only_go_down(path):
    room = room_of(path)
    assert room in FLOOR, f"give the new room {room!r} a floor in DEVELOPERS.md and here"
    for parts in imports(path):
        if parts[0] in ONLY_IN:
            assert room in ONLY_IN[parts[0]], f"{room} may not import {parts[0]}"
        if parts[0] == "lowside" and len(parts) > 1 and parts[1] != room:
            other = parts[1]
            assert other in FLOOR, f"{path.name} imports lowside.{other}, which has no floor"
            assert FLOOR[other] < FLOOR[room], f"{room} may not import {other}: it is not below"


def test_every_floor_above_the_ground_imports_nothing_heavy_at_import_time():
    """`import lowside` and the physics must not pull in CoolProp, matplotlib, pandas or widgets."""
    import subprocess
    import sys

    light = [path for path in files() if room_of(path) not in ("plots", "screens")]
    rooms = sorted({room_of(path) for path in light})
    code = (
        "import sys\n"
        + "".join(f"import lowside.{room}\n" for room in rooms)
        + "heavy = {'CoolProp', 'matplotlib', 'pandas', 'ipywidgets', 'scipy'} & set(sys.modules)\n"
        + "assert not heavy, heavy\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True)
