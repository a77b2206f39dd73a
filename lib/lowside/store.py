"""Find, verify and load the files of ``data/``.

Every file is listed in ``data/manifest.toml`` with its source and its SHA-256 checksum, and is
checked before it is read: a damaged table must say so, never answer a little wrongly. Text files
are hashed with Unix line ends, so that a checkout on Windows verifies too.

``python -m lowside.store`` verifies everything; ``--update`` lists new and changed files.
"""

from __future__ import annotations

import argparse
import datetime
import hashlib
import tomllib
from functools import cache
from pathlib import Path

import numpy as np

from .errors import DataDamaged

MANIFEST = "manifest.toml"
TEXT = {".toml", ".csv", ".txt", ".md"}
UNLISTED = {MANIFEST, "README.md"}


@cache
def data_dir():
    """Folder with the data files, in a checkout or in an installed wheel.

    Returns
    -------
    pathlib.Path

    Raises
    ------
    DataDamaged
        If neither place has a manifest.
    """
    here = Path(__file__).resolve().parent
    for folder in (here.parents[1] / "data", here / "_data"):
        if (folder / MANIFEST).is_file():
            return folder
    raise DataDamaged(f"The data folder is missing: no {MANIFEST} beside {here}.")


def digest(file):
    """SHA-256 of a file, text files with Unix line ends.

    Parameters
    ----------
    file : pathlib.Path

    Returns
    -------
    str
        Hexadecimal digest.
    """
    content = Path(file).read_bytes()
    if Path(file).suffix in TEXT:
        content = content.replace(b"\r\n", b"\n")
    return hashlib.sha256(content).hexdigest()


def read_manifest(folder=None):
    """Read the manifest as ``{file name: {"source": ..., "sha256": ..., ...}}``.

    Parameters
    ----------
    folder : pathlib.Path, optional
        Data folder; ours if not given.

    Returns
    -------
    dict

    Raises
    ------
    DataDamaged
        If the manifest is missing or cannot be read.
    """
    file = Path(folder or data_dir()) / MANIFEST
    try:
        return tomllib.loads(file.read_text(encoding="utf-8")).get("files", {})
    except (OSError, tomllib.TOMLDecodeError) as problem:
        raise DataDamaged(f"The list of data files, {file}, cannot be read: {problem}.") from None


@cache
def _manifest():
    return read_manifest()


def check(name, folder=None, manifest=None):
    """Compare one file with the manifest.

    Parameters
    ----------
    name : str
        Name relative to the data folder, with forward slashes.
    folder : pathlib.Path, optional
        Data folder; ours if not given.
    manifest : dict, optional
        What `read_manifest` gave.

    Returns
    -------
    pathlib.Path
        The verified file.

    Raises
    ------
    DataDamaged
        If the file is not listed, is missing, or has another checksum.
    """
    folder = Path(folder or data_dir())
    manifest = _manifest() if manifest is None else manifest
    if name not in manifest:
        raise DataDamaged(
            f"The data file {name} is not listed in {MANIFEST}; "
            "after adding a file run: python -m lowside.store --update"
        )
    file = folder / name
    if not file.is_file():
        raise DataDamaged(f"The data file {name} is missing from {folder}.")
    if digest(file) != manifest[name]["sha256"]:
        raise DataDamaged(
            f"The data file {name} is not the one that {MANIFEST} describes: "
            "it was damaged or changed. Restore it, or, if you changed it on purpose, "
            "run: python -m lowside.store --update"
        )
    return file


@cache
def path(name):
    """Give the verified path of a data file.

    Parameters
    ----------
    name : str
        Name relative to the data folder, such as ``"refrigerants.toml"``.

    Returns
    -------
    pathlib.Path

    Raises
    ------
    DataDamaged
        If the file is missing or is not the one the manifest describes.
    """
    return check(name)


def read_toml(name):
    """Content of a TOML file of the data folder.

    Parameters
    ----------
    name : str
        Such as ``"refrigerants.toml"``.

    Returns
    -------
    dict

    Raises
    ------
    DataDamaged
        As `path`.
    """
    return tomllib.loads(path(name).read_text(encoding="utf-8"))


def load_table(name):
    """Arrays of an ``.npz`` file of the data folder, read-only.

    Parameters
    ----------
    name : str
        Such as ``"properties/R290.npz"``.

    Returns
    -------
    dict of numpy.ndarray

    Raises
    ------
    DataDamaged
        As `path`.
    """
    with np.load(path(name), allow_pickle=False) as archive:
        table = {key: archive[key] for key in archive.files}
    for array in table.values():
        array.flags.writeable = False
    return table


def listed_files(folder=None):
    """Names of the files that the manifest should list.

    Parameters
    ----------
    folder : pathlib.Path, optional
        Data folder; ours if not given.

    Returns
    -------
    list of str
    """
    folder = Path(folder or data_dir())
    names = (file.relative_to(folder).as_posix() for file in folder.rglob("*") if file.is_file())
    return sorted(n for n in names if n not in UNLISTED and not Path(n).name.startswith("."))


def verify(folder=None):
    """Check every file both ways: listed and present, present and listed.

    Parameters
    ----------
    folder : pathlib.Path, optional
        Data folder; ours if not given.

    Returns
    -------
    dict of str to str
        For each file an empty string, or what is wrong with it.
    """
    folder = Path(folder or data_dir())
    manifest = read_manifest(folder)
    result = {}
    for name in sorted({*manifest, *listed_files(folder)}):
        try:
            check(name, folder, manifest)
            result[name] = ""
        except DataDamaged as problem:
            result[name] = str(problem)
    return result


def _source_in(file):
    if file.suffix == ".toml":
        return tomllib.loads(file.read_text(encoding="utf-8")).get("source")
    return None


def _write_manifest(folder, manifest):
    lines = [
        "# Every file of data/ with its source and checksum. Written by",
        "# python -m lowside.store --update  and  python -m lowside.refrigerants.build",
    ]
    for name in sorted(manifest):
        lines += ["", f'[files."{name}"]']
        for key in sorted(manifest[name]):
            value = str(manifest[name][key]).replace("\\", "\\\\").replace('"', '\\"')
            lines.append(f'{key} = "{value}"')
    text = "\n".join(lines) + "\n"
    (folder / MANIFEST).write_text(text, encoding="utf-8", newline="\n")


def update(folder=None, entries=None):
    """List new and changed files in the manifest and drop those that are gone.

    A file that did not change keeps its entry. The source of a TOML file is its own top-level
    ``source`` text; other files need an entry with a source.

    Parameters
    ----------
    folder : pathlib.Path, optional
        Data folder; ours if not given.
    entries : dict of str to dict, optional
        Further keys for some files, such as ``{"source": ...}``.

    Returns
    -------
    list of str
        Names of the files whose entry changed.

    Raises
    ------
    DataDamaged
        If a new file has no source.
    """
    folder = Path(folder or data_dir())
    old = read_manifest(folder) if (folder / MANIFEST).exists() else {}
    entries = entries or {}
    new = {}
    for name in listed_files(folder):
        file = folder / name
        checksum = digest(file)
        entry = dict(old.get(name, {}))
        source = _source_in(file)
        if source:
            entry["source"] = source
        entry.update(entries.get(name, {}))
        if not entry.get("source"):
            raise DataDamaged(
                f"The data file {name} does not say where it comes from: put a line "
                'source = "..." on top of a TOML file, or use --source.'
            )
        if checksum != entry.get("sha256"):
            entry["sha256"] = checksum
            entry["date"] = datetime.date.today().isoformat()
        new[name] = entry
    _write_manifest(folder, new)
    _manifest.cache_clear()
    path.cache_clear()
    return [n for n in sorted({*old, *new}) if old.get(n) != new.get(n)]


def main(arguments=None):
    """Verify the data files, or list changed ones in the manifest.

    Parameters
    ----------
    arguments : list of str, optional
        Command line; that of the process if not given.

    Returns
    -------
    int
        0 if every file is as the manifest says.
    """
    parser = argparse.ArgumentParser(
        prog="python -m lowside.store", description="Verify the files of data/."
    )
    parser.add_argument("--update", action="store_true", help="list new and changed files")
    parser.add_argument("--source", help="where the files named after it come from")
    parser.add_argument("files", nargs="*", help="files that --source speaks about")
    options = parser.parse_args(arguments)
    if options.update:
        try:
            for name in update(entries={n: {"source": options.source} for n in options.files}):
                print(f"listed  {name}")
        except DataDamaged as problem:
            print(problem)
            return 1
    result, manifest = verify(), read_manifest()
    width = max(map(len, result), default=0)
    for name, problem in result.items():
        verdict, detail = ("wrong", problem) if problem else ("ok", manifest[name]["source"])
        print(f"{verdict:8} {name:{width}}  {detail}")
    return int(any(result.values()))


if __name__ == "__main__":
    raise SystemExit(main())
