"""The notebooks as files: anatomy, almost no code, frozen, and compared strictly by nbval."""

import ast
import importlib.util
import re
import subprocess
import sys
from pathlib import Path

import nbformat
import pytest

ROOT = Path(__file__).parents[1]
NOTEBOOKS = sorted((ROOT / "notebooks").glob("*.ipynb"))
LESSONS = [path for path in NOTEBOOKS if not path.name.startswith("00")]

ANATOMY = [
    "The call",
    "Predict first",
    "The picture",
    "Move it yourself",
    "Why",
    "Check yourself",
    "On the job",
    "Where the numbers come from",
]
STATIC_MIME = {"text/plain", "text/html", "image/png"}

every_notebook = pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda p: p.stem)
every_lesson = pytest.mark.parametrize("path", LESSONS, ids=lambda p: p.stem)


def read(path):
    return nbformat.read(path, as_version=4)


def code_cells(notebook):
    return [cell for cell in notebook.cells if cell.cell_type == "code"]


def freezer():
    spec = importlib.util.spec_from_file_location("freeze", ROOT / ".ci" / "freeze.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_there_are_notebooks():
    assert NOTEBOOKS
    assert NOTEBOOKS[0].name == "00-start-here.ipynb"


@every_notebook
def test_name_is_two_digits_and_kebab_case(path):
    assert re.fullmatch(r"\d\d-[a-z0-9]+(-[a-z0-9]+)*\.ipynb", path.name)


@every_lesson
def test_anatomy_stands_in_order(path):
    headings = []
    for cell in read(path).cells:
        if cell.cell_type == "markdown":
            headings += re.findall(r"^## (.+)$", cell.source, flags=re.M)
    assert headings == ANATOMY


@every_notebook
def test_one_title_and_it_carries_the_number(path):
    titles = []
    for cell in read(path).cells:
        if cell.cell_type == "markdown":
            titles += re.findall(r"^# (.+)$", cell.source, flags=re.M)
    assert len(titles) == 1
    assert titles[0].startswith(path.name[:2])


@every_notebook
def test_code_is_one_import_and_short_calls(path):
    cells = code_cells(read(path))
    for number, cell in enumerate(cells):
        tree = ast.parse(cell.source)
        assert len(cell.source.strip().splitlines()) <= 2 or number == 0, cell.source
        assert len(cell.source.strip().splitlines()) <= 4, cell.source
        for node in ast.walk(tree):
            forbidden = (ast.FunctionDef, ast.ClassDef, ast.Lambda, ast.For, ast.While, ast.BinOp)
            assert not isinstance(node, forbidden), f"{type(node).__name__}: {cell.source}"
            if isinstance(node, ast.Import | ast.ImportFrom):
                assert number == 0, f"imports belong in the first code cell: {cell.source}"
        for word in ("rcParams", "PropsSI", "CoolProp", "6894", "459.67", "273.15"):
            assert word not in cell.source


@every_lesson
def test_lesson_asks_predicts_and_checks(path):
    source = "\n".join(cell.source for cell in code_cells(read(path)))
    assert "page.predict()" in source
    assert len(re.findall(r"page\.task\(\d+\)", source)) >= 3
    tasks = re.findall(r"page\.task\((\d+)\)", source)
    solutions = re.findall(r"page\.solution\((\d+)\)", source)
    assert tasks == solutions, "every task has its worked answer right after it"
    assert source.index("page.picture()") < source.index("page.explore()")


@every_lesson
def test_worked_answers_are_tagged_and_folded(path):
    for cell in code_cells(read(path)):
        if "page.solution(" in cell.source:
            assert "solution" in cell.metadata.get("tags", [])
            assert cell.metadata.jupyter.outputs_hidden


@every_notebook
def test_is_frozen(path):
    """In order, without widget state, every figure with its words; else nbval compares nothing."""
    notebook = read(path)
    assert "widgets" not in notebook.metadata
    counts = [cell.execution_count for cell in code_cells(notebook)]
    advice = f"not frozen: run `python .ci/freeze.py notebooks/{path.name}`"
    assert counts == list(range(1, len(counts) + 1)), advice
    for number, cell in enumerate(notebook.cells):
        assert cell.id == f"cell-{number:02d}", advice
        for output in cell.get("outputs", []):
            assert output.output_type != "error", output
            assert output.output_type != "stream", "a lesson page prints nothing by the way"
            assert set(output.data) <= STATIC_MIME, advice
            if "image/png" in output.data:
                words = output.data["text/plain"]
                assert len(words) > 80, "a picture needs words that say what it shows"
                assert "object at 0x" not in words
                assert output.metadata["image/png"]["alt"] == words


@every_notebook
def test_stays_small(path):
    assert path.stat().st_size < 1_500_000, "a page that loads on a phone stays under 1.5 MB"


def test_a_changed_digit_in_a_figures_words_is_caught(tmp_path):
    """Strict nbval must fail when a stored number differs from the recomputed one."""
    notebook = read(next(path for path in NOTEBOOKS if path.name.startswith("22")))
    last = next(
        number
        for number, cell in enumerate(notebook.cells)
        if any("image/png" in output.get("data", {}) for output in cell.get("outputs", []))
    )
    notebook.cells = notebook.cells[: last + 1]
    output = next(o for o in notebook.cells[last].outputs if "image/png" in o.get("data", {}))
    words = output.data["text/plain"]
    digit = re.search(r"\d(?=\D*$)", words)
    changed = str((int(digit.group()) + 1) % 10)

    def nbval(name):
        nbformat.write(notebook, tmp_path / name)
        command = [sys.executable, "-m", "pytest", "-n", "0", "-p", "no:cacheprovider"]
        return subprocess.run(
            [*command, "-c", str(ROOT / "pyproject.toml"), str(tmp_path / name)],
            capture_output=True,
            text=True,
            check=False,
        )

    unchanged = nbval("as_frozen.ipynb")
    assert unchanged.returncode == 0, unchanged.stdout
    output.data["text/plain"] = words[: digit.start()] + changed + words[digit.end() :]
    damaged = nbval("one_digit_off.ipynb")
    assert damaged.returncode == 1
    assert "Cell execution caused" not in damaged.stdout
    assert "mismatch" in damaged.stdout


def test_readme_map_equals_the_files():
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    linked = set(re.findall(r"\(notebooks/(\d\d-[a-z0-9-]+\.ipynb)\)", readme))
    assert linked == {path.name for path in NOTEBOOKS}


def test_top_level_holds_exactly_what_was_agreed():
    listed = subprocess.run(
        ["git", "ls-tree", "--name-only", "HEAD"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    if listed.returncode:
        pytest.skip("not a git checkout")
    names = {name for name in listed.stdout.split() if not name.startswith(".")}
    folders = {"notebooks", "lib", "data", "tests", "binder"}
    assert names == {"README.md", "DEVELOPERS.md", "pyproject.toml"} | folders
