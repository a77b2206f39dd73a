"""Run notebooks and store their outputs so that running them again changes nothing.

    python .ci/freeze.py                 # every notebook
    python .ci/freeze.py notebooks/22-*  # some

What is stored is the words of each figure (strict nbval compares them), one picture for a reader
without a kernel, and no widget state. `tests/test_notebooks.py` says which notebook is not frozen.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

import nbformat
from nbclient import NotebookClient

ROOT = Path(__file__).parents[1]
WIDGET = "application/vnd.jupyter.widget"
METADATA = {
    "kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"},
    "language_info": {"name": "python"},
}


def freeze(notebook, folder):
    """Return the notebook executed in `folder`, with reproducible outputs, counts and cell ids."""
    NotebookClient(
        notebook, timeout=300, kernel_name="python3", resources={"metadata": {"path": str(folder)}}
    ).execute()
    notebook.metadata = nbformat.from_dict(METADATA)
    count = 0
    for number, cell in enumerate(notebook.cells):
        cell.id = f"cell-{number:02d}"
        cell.metadata.pop("execution", None)
        if cell.cell_type != "code":
            continue
        count += 1
        cell.execution_count = count
        for output in cell.outputs:
            if "execution_count" in output:
                output.execution_count = count
            for mime in [m for m in output.get("data", {}) if m.startswith(WIDGET)]:
                del output.data[mime]
    nbformat.validate(notebook)
    return notebook


def text(notebook):
    """Return the notebook as the exact text that is committed."""
    return json.dumps(notebook, indent=1, ensure_ascii=False, sort_keys=True) + "\n"


def main(arguments):
    paths = [Path(a) for a in arguments] or sorted((ROOT / "notebooks").glob("[0-9]*.ipynb"))
    for path in paths:
        notebook = nbformat.read(path, as_version=4)
        path.write_text(text(freeze(notebook, path.parent)), encoding="utf-8")
        print(f"frozen {path.name}: {path.stat().st_size / 1024:.0f} kB", flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
