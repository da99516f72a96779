from __future__ import annotations

from decimal import Decimal

import pytest

from compare.office.cost_book import COLUMNS, Case, load_book
from compare.prices.table import TableError

HEADER = ",".join(COLUMNS)
PAD = "material_pad,material,usd/each,50,80,130,supplier quote,2026-10-01"
SHARE = "rate_productive_share,rate,frac,0.80,0.70,0.60,time sheets,2026-10-01"


def own_file(tmp_path, rows):
    path = tmp_path / "own.csv"
    path.write_text(f"{HEADER}\n{rows}\n", encoding="utf-8")
    return path


def test_every_generic_row_is_a_placeholder_with_source_and_date():
    rows = load_book().rows.values()
    assert all(row.is_placeholder and row.date for row in rows)
    assert {row.unit for row in rows if row.item.startswith("task_")} == {"h/each", "h/10 ft", "h/job"}


def test_own_file_overrides_row_by_row(tmp_path):
    generic, own = load_book(), load_book(own_file(tmp_path, f"{PAD}\n{SHARE}"))
    assert own.figure("material_pad", Case.MID) == 80
    assert not own.row("material_pad").is_placeholder
    changed = {name for name in generic.rows if generic.rows[name] != own.rows[name]}
    assert changed == {"material_pad", "rate_productive_share"}
    assert own.technician_usd_h(Case.MID) == Decimal("27.55") * Decimal("1.42") / Decimal("0.70")


def test_a_task_can_be_given_to_the_electrician(tmp_path):
    row = "task_circuit,labour electrician,h/each,3,4,5,subcontract,2026-10-01"
    assert load_book().hour_usd("task_circuit", Case.MID) != 115
    assert load_book(own_file(tmp_path, row)).hour_usd("task_circuit", Case.MID) == 115


FAULTS = {
    "unknown": (PAD.replace("material_pad", "material_plinth"), "own.csv:2: item 'material_plinth' is not in the cost"),
    "negative": (PAD.replace("50", "-50"), "own.csv:2: low = -50 is negative"),
    "infinite": (PAD.replace("130", "Infinity"), "own.csv:2: high = 'Infinity' is not finite"),
    "no number": (PAD.replace("130", "nan"), "own.csv:2: high = 'nan' is not finite"),
    "words": (PAD.replace("130", "about 130"), "own.csv:2: high = 'about 130' is not a plain number"),
    "unit": (PAD.replace("usd/each", "usd/ft"), "own.csv:2: material_pad is in 'usd/each', not 'usd/ft'"),
    "group": (PAD.replace(",material,", ",fee,"), "own.csv:2: material_pad belongs to group 'material', not 'fee'"),
    "no such group": (PAD.replace(",material,", ",stuff,"), "own.csv:2: group 'stuff' is not one of"),
    "order": (PAD.replace("80", "800"), "own.csv:2: material_pad needs low <= mid <= high"),
    "falling order": (SHARE.replace("0.80", "0.50"), "own.csv:2: rate_productive_share needs low >= mid >= high"),
    "share": (SHARE.replace("0.80", "80"), "own.csv:2: rate_productive_share is a share and must be under 1"),
    "zero share": (SHARE.replace("0.60", "0"), "own.csv:2: rate_productive_share must be above zero"),
    "source": (PAD.replace("supplier quote", ""), "own.csv:2: column 'source' is empty"),
    "date": (PAD.replace("2026-10-01", "2026-13-01"), "own.csv:2: date = '2026-13-01' is not a date"),
    "twice": (f"{PAD}\n{PAD}", "own.csv:3: item 'material_pad' stands twice"),
}


@pytest.mark.parametrize("fault", FAULTS)
def test_faults_name_file_and_line(fault, tmp_path):
    rows, words = FAULTS[fault]
    with pytest.raises(TableError, match=words):
        load_book(own_file(tmp_path, rows))


def test_all_faults_are_told_at_once(tmp_path):
    with pytest.raises(TableError) as caught:
        load_book(own_file(tmp_path, f"{FAULTS['unknown'][0]}\n{FAULTS['unit'][0]}"))
    assert [problem.split(": ")[0].rsplit(":", 1)[1] for problem in caught.value.problems] == ["2", "3"]


def test_missing_row_is_named():
    with pytest.raises(LookupError, match="no row 'task_juggling'"):
        load_book().row("task_juggling")
