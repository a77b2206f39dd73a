"""The data files are the ones the manifest describes, and a damaged one is named."""

import numpy as np
import pytest
from lowside import store
from lowside.errors import DataDamaged


@pytest.fixture
def folder(tmp_path):
    """A small data folder with one table, one text file and a manifest."""
    (tmp_path / "properties").mkdir()
    np.savez(tmp_path / "properties" / "one.npz", values=np.arange(5.0))
    (tmp_path / "boxes.toml").write_text('source = "invented"\nnumber = 3\n', newline="\n")
    store.update(tmp_path, {"properties/one.npz": {"source": "counted"}})
    return tmp_path


def test_every_shipped_file_is_listed_and_undamaged():
    result = store.verify()
    assert "refrigerants.toml" in result
    assert {name: problem for name, problem in result.items() if problem} == {}


def test_every_entry_says_where_it_comes_from():
    for name, entry in store.read_manifest().items():
        assert entry["source"], name
        assert len(entry["sha256"]) == 64, name
        assert entry["date"], name


def test_tables_name_the_version_that_made_them():
    tables = {n: e for n, e in store.read_manifest().items() if n.startswith("properties/")}
    assert len(tables) >= 13
    for name, entry in tables.items():
        assert entry["source"].startswith("CoolProp "), name
        assert "lowside.refrigerants.build" in entry["made_by"], name


def test_one_flipped_bit_is_noticed_and_named(folder):
    file = folder / "properties" / "one.npz"
    content = bytearray(file.read_bytes())
    content[len(content) // 2] ^= 1
    file.write_bytes(content)
    with pytest.raises(DataDamaged, match=r"properties/one\.npz"):
        store.check("properties/one.npz", folder, store.read_manifest(folder))
    assert store.verify(folder)["properties/one.npz"]
    assert not store.verify(folder)["boxes.toml"]


def test_a_missing_file_is_named(folder):
    (folder / "boxes.toml").unlink()
    assert "boxes.toml is missing" in store.verify(folder)["boxes.toml"]


def test_an_unlisted_file_is_named(folder):
    (folder / "stray.csv").write_text("1,2\n")
    assert "stray.csv is not listed" in store.verify(folder)["stray.csv"]


def test_a_lost_manifest_is_said(folder):
    (folder / "manifest.toml").unlink()
    with pytest.raises(DataDamaged, match="cannot be read"):
        store.read_manifest(folder)


def test_windows_line_ends_are_not_damage(folder):
    file = folder / "boxes.toml"
    file.write_bytes(file.read_bytes().replace(b"\n", b"\r\n"))
    assert not store.verify(folder)["boxes.toml"]


def test_update_lists_changed_files_only(folder):
    assert store.update(folder) == []
    (folder / "boxes.toml").write_text('source = "invented"\nnumber = 4\n', newline="\n")
    assert store.update(folder) == ["boxes.toml"]
    assert not any(store.verify(folder).values())


def test_update_drops_files_that_are_gone(folder):
    (folder / "boxes.toml").unlink()
    assert store.update(folder) == ["boxes.toml"]
    assert "boxes.toml" not in store.read_manifest(folder)


def test_a_file_without_a_source_is_refused(folder):
    (folder / "stray.csv").write_text("1,2\n")
    with pytest.raises(DataDamaged, match=r"stray\.csv does not say where it comes from"):
        store.update(folder)


def test_a_source_with_quotes_and_a_backslash_survives(folder):
    source = r'a "quoted" \ source'
    store.update(folder, {"properties/one.npz": {"source": source}})
    assert store.read_manifest(folder)["properties/one.npz"]["source"] == source


def test_tables_cannot_be_changed_by_mistake():
    table = store.load_table("properties/R290.npz")
    with pytest.raises(ValueError, match="read-only"):
        table["saturation"][0, 0] = 1


def test_a_name_that_is_not_there_is_one_sentence():
    with pytest.raises(DataDamaged, match=r"properties/R999\.npz is not listed"):
        store.load_table("properties/R999.npz")


def test_the_command_prints_every_file_and_succeeds(capsys):
    assert store.main([]) == 0
    printed = capsys.readouterr().out
    for name in store.read_manifest():
        assert f"ok       {name} " in printed
