"""Reading a catalogue: units of each column, user tables, and errors that name line, column and cure."""

from __future__ import annotations

import pytest

from compare.equipment.catalogue import Catalogue, catalogue
from compare.equipment.columns import TABLES, bundled
from compare.equipment.table import CatalogueError
from compare.equipment.unit import LABEL, UnitKind


def changed(name: str, old: str, new: str) -> str:
    text = bundled(name)
    assert old in text
    return text.replace(old, new, 1)


def load(tmp_path, name: str, text: str) -> Catalogue:
    (tmp_path / name).write_text(text, encoding="utf-8")
    return catalogue(tmp_path)


def test_bundled_catalogue_is_whole_and_labelled():
    units = catalogue()
    assert {pair.kind for pair in units.pairs} == set(UnitKind)
    assert len(units.shared) == 6
    assert units.label == LABEL == "generic, not measured, editable"
    assert all(pair.indoor.source for pair in units.pairs)
    for name in TABLES:
        assert "not measured" in bundled(name).splitlines()[0].lower()


def test_the_same_table_in_si_gives_the_same_units(tmp_path):
    """1 kBtu/h = 0.293071 kW (international table Btu): the SI twin of a table gives the same capacities."""
    rows = bundled("capacity.csv").splitlines()
    start = next(i for i, row in enumerate(rows) if row.startswith("text,"))
    twin = rows[: start + 1]
    twin[start] = "text,kBtu/h," + "kW," * 12 + "C,text"
    for row in rows[start + 1 :]:
        cells = row.split(",")
        watts = [repr(float(cell) * 0.29307107017222) for cell in cells[2:14]]
        twin.append(",".join([*cells[:2], *watts, repr((float(cells[14]) - 32) / 1.8), cells[15]]))
    got = load(tmp_path, "capacity.csv", "\n".join(twin))
    for ours, theirs in zip(catalogue().pairs, got.pairs, strict=True):
        assert theirs.label == ours.label
        assert theirs.output.heat.max_w == pytest.approx(ours.output.heat.max_w, rel=1e-12)
        assert theirs.output.cutoff_c == pytest.approx(ours.output.cutoff_c, abs=1e-9)


def test_one_file_replaces_the_table_that_it_looks_like(tmp_path):
    path = tmp_path / "my units.csv"
    path.write_text(changed("indoor.csv", "wall head,6,135", "wall head,6,140"), encoding="utf-8")
    units = catalogue(path)
    assert units.pair(UnitKind.WALL, 6).indoor.airflow_m3_s.quiet == pytest.approx(140 * 0.3048**3 / 60)
    assert units.label.startswith(LABEL)
    assert "my units.csv" in units.label


def test_a_model_column_is_kept(tmp_path):
    rows = bundled("outdoor_single.csv").splitlines()
    lines = [row if row.startswith("#") else f"{row},{'model' if 'size' in row else 'text'}" for row in rows]
    units = load(tmp_path, "outdoor_single.csv", "\n".join(lines))
    assert units.pairs[0].outdoor.model == "text"


@pytest.mark.parametrize(
    ("name", "old", "new", "message"),
    [
        ("capacity.csv", "wall head,9,2.5", "wall head,9,lots", r"capacity\.csv:9: column 'c95_min': 'lots' is not a"),
        ("capacity.csv", "wall head,9,2.5", "wall head,9,nan", r"capacity\.csv:9: column 'c95_min': 'nan' is not a"),
        ("capacity.csv", "wall head,9,2.5", "wall head,9,-2.5", r"capacity\.csv:9: .*-2\.5 kBtu/h is outside 0\.17"),
        ("capacity.csv", "wall head,9,2.5", "roof head,9,2.5", r"capacity\.csv:9: column 'type': 'roof head' is not"),
        ("capacity.csv", "wall head,9,2.5", "wall head,9,9.5", r"capacity\.csv:9: cooling output must rise"),
        ("capacity.csv", "wall head,9,", "wall head,7,", r"capacity\.csv:9: wall head 7 stands twice, first at cap"),
        ("capacity.csv", "wall head,9,", "wall head,10,", r"wall head 10 has no row in cop\.csv, indoor\.csv"),
        ("capacity.csv", "c95_min,", "", r"capacity\.csv:5: column 'c95_min' is missing"),
        ("capacity.csv", "c95_min,", "colour,", r"column 'colour' is not known; allowed: "),
        ("capacity.csv", "c95_min,", "c95_max,", r"column 'c95_max' stands twice"),
        ("capacity.csv", "text,kBtu/h,", "text,bananas,", r"capacity\.csv:6: column 'size' has the unit 'bananas'"),
        ("capacity.csv", "wall head,9,", "wall head,", r"capacity\.csv:9: has 15 cells, the line of column na"),
        ("outdoor_shared.csv", "18,2,10.8,23.4", "18,2,25,23.4", r"'conn_min' must be below 'conn_max'"),
        ("cop.csv", "wall head,6,5.20,3.70", "wall head,6,3.20,3.70", r"cooling COP must not rise"),
    ],
)  # fmt: skip
def test_a_bad_table_names_line_column_and_cure(tmp_path, name, old, new, message):
    with pytest.raises(CatalogueError, match=message):
        load(tmp_path, name, changed(name, old, new))


def test_all_problems_of_a_table_come_at_once(tmp_path):
    text = changed("capacity.csv", "wall head,9,2.5", "wall head,9,x").replace("wall head,12,3.0", "wall head,12,y")
    with pytest.raises(CatalogueError) as caught:
        load(tmp_path, "capacity.csv", text)
    assert len(str(caught.value).splitlines()) == 2


@pytest.mark.parametrize(
    ("content", "message"),
    [("", "fit no table"), ("a,b,c\n-,-,-\n1,2,3\n", "fit no table"), ("# only a remark\n", "fit no table")],
)
def test_a_file_that_is_no_table(tmp_path, content, message):
    with pytest.raises(CatalogueError, match=message):
        load(tmp_path, "odd.csv", content)


def test_missing_folder_and_bytes_that_are_no_text(tmp_path):
    with pytest.raises(CatalogueError, match="not found"):
        catalogue(tmp_path / "nowhere")
    with pytest.raises(CatalogueError, match="holds no CSV file"):
        catalogue(tmp_path)
    (tmp_path / "capacity.csv").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(CatalogueError, match="cannot be read as UTF-8"):
        catalogue(tmp_path)


def test_an_unknown_size_lists_the_sizes_there_are():
    with pytest.raises(KeyError, match="no wall head of size 10 kBtu/h; sizes: 6, 7, 9, 12"):
        catalogue().pair(UnitKind.WALL, 10)
    with pytest.raises(KeyError, match="sizes: 18, 24"):
        catalogue().shared_unit(20)
