"""The code of a new device. NIST SP 800-63B-4, 3.1.3.2, and OWASP ASVS 5.0.0, 6.5: once, short-lived, hard to guess."""

from __future__ import annotations

from dashboard.pairing import FIGURES, LIFE_S, MOST_WRONG, Codes, spaced
from tests.dashboard.site_double import Clock


def test_a_code_has_at_least_six_figures_and_lasts_at_most_ten_minutes() -> None:
    code = Codes().new()
    assert len(code) == FIGURES >= 6  # SP 800-63B: at least six decimal digits
    assert code.isascii()
    assert code.isdigit()
    assert LIFE_S <= 600.0  # SP 800-63B: valid for at most ten minutes


def test_codes_differ() -> None:
    codes = Codes()
    assert len({codes.new() for _ in range(200)}) > 195  # 200 of 1e8 without a repeat: chance of one 2e-4


def test_a_code_opens_once() -> None:
    codes = Codes()
    code = codes.new()
    assert codes.take(code)
    assert not codes.take(code)


def test_a_code_is_read_as_it_is_written() -> None:
    codes = Codes()
    code = codes.new()
    assert codes.take(f" {spaced(code)} ")


def test_a_new_code_ends_the_old_one() -> None:
    codes = Codes()
    old, new = codes.new(), codes.new()
    assert old == new or not codes.take(old)
    assert codes.take(new)


def test_a_code_runs_out() -> None:
    clock = Clock()
    codes = Codes(clock)
    code = codes.new()
    clock.now_s += LIFE_S - 1.0
    assert not codes.take("x")
    clock.now_s += 1.0
    assert not codes.take(code)


def test_nothing_opens_where_no_code_was_given() -> None:
    codes = Codes()
    assert not any(codes.take(text) for text in ("", "00000000", " ", "None"))


def test_too_many_wrong_codes_void_the_right_one() -> None:
    codes = Codes()
    code = codes.new()
    wrong = f"{(int(code) + 1) % 10**FIGURES:0{FIGURES}d}"
    for _ in range(MOST_WRONG):
        assert not codes.take(wrong)
    assert not codes.take(code)


def test_odd_texts_are_wrong_and_nothing_more() -> None:
    codes = Codes()
    code = codes.new()
    for text in ("½", "\ud800", "١٢٣٤٥٦٧٨", code[:-1], code + "0", "\x00"):
        assert not codes.take(text)
    assert codes.take(code)
