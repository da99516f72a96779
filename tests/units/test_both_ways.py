"""A mix both ways, years that need no run of their own, and the `units` command."""

from __future__ import annotations

import math
import time
from dataclasses import replace
from importlib import resources
from pathlib import Path

import numpy as np
import pytest
import typer
from typer.testing import CliRunner

from compare.commands import register
from compare.commands.unit_lines import backup_lines, option_lines
from compare.commands.units import units_text
from compare.options.option import Option
from compare.pipeline import Comparison
from compare.scoring.judgements import rulebook
from compare.years.backup import backup_of
from compare.years.bench import Bench
from compare.years.habits import failed_in
from compare.years.sharing import shares_outdoor
from compare.years.supplies import factory_of
from compare.years.ways import BothWays, both_ways
from tests.houses import SCENARIOS, compared

app = typer.Typer()
register(app)


def mixes(found: Comparison) -> list[Option]:
    return [o for o in found.options if o.family.value == "mix" and len(o.zones) == 2 and shares_outdoor(o)]


def ways(found: Comparison, option: Option) -> BothWays:
    return both_ways(found.results, option.layout.key)


def test_a_shared_unit_saves_a_pad_and_a_circuit_and_costs_low_load_and_safety() -> None:
    """Trade pages: one outdoor unit saves place; its minimum is its own, and when it fails nothing runs."""
    found = compared("ranch")
    assert mixes(found)
    for option in mixes(found):
        both = ways(found, option)
        apart, together = both.apart, both.together
        assert together is not None
        assert (apart.pads, together.pads) == (2, 1)
        assert together.breaker_spaces < apart.breaker_spaces
        one_apart, one_together = apart.calling[0], together.calling[0]
        assert one_together.heat_min_w > 2.0 * one_apart.heat_min_w
        assert together.calling[-1].heat_min_w == together.calling[0].heat_min_w
        assert apart.calling[-1].heat_min_w == pytest.approx(sum(one.heat_min_w for one in apart.calling[:-1]))
        assert [failure.still_runs for failure in together.failures] == [()]
        assert sorted(tag for failure in apart.failures for tag in failure.still_runs) == sorted(
            tag for one in apart.calling[:-1] for tag in one.zones
        )
        assert apart.conflict_h == 0.0
        assert together.starts > apart.starts
        assert apart.price_mid_usd == float(found.by_id[apart.key].option.price.mid_usd)


def test_conflict_hours_are_those_of_the_year() -> None:
    """Counted again from the deliveries: one head heats while another cools."""
    found = compared("ranch")
    for result in found.results:
        option = result.option
        if shares_outdoor(option):
            way = ways(found, option).together
            assert way is not None
            hours = 0
            for group in option.outdoor.groups:
                supply = found.hours(option.key).trace.supply_w[:, list(group.zones)]
                hours += int(((supply.max(axis=1) >= 1.0) & (supply.min(axis=1) <= -1.0)).sum())
            assert way.conflict_h == hours


def test_a_layout_without_sharing_says_why() -> None:
    found = compared("ranch")
    single = next(o for o in found.options if o.family.value == "single_head")
    both = ways(found, single)
    assert both.together is None
    assert "nothing to share" in both.why_not[0]
    with pytest.raises(ValueError, match="not among the options"):
        both_ways((), "h0")


@pytest.mark.parametrize("name", ["ranch", "cabin"])
def test_years_are_run_again_only_where_a_shared_limit_binds(name: str) -> None:
    """A taken-over year equals the option's own (identity within the thermostats' tolerance); the count is told."""
    found = compared(name)
    bench = Bench(found.case, factory_of(found.case), found.season, rulebook().numbers)
    options = found.options
    started = time.process_time()
    first = [ran.trace for ran in bench.first(options)]
    seconds = time.process_time() - started
    shared = [option for option in options if shares_outdoor(option)]
    assert bench.years_run + bench.years_taken_over == len(options)
    assert 0 < bench.years_taken_over <= len(shared)
    pairs = list(zip(options, first, strict=True))
    kept = {option.layout.key: trace for option, trace in pairs if not shares_outdoor(option)}
    for option, trace in zip(options, first, strict=True):
        if shares_outdoor(option) and trace is kept.get(option.layout.key):
            alone = Bench(found.case, factory_of(found.case), found.season, rulebook().numbers)
            own = alone.first([option])[0].trace
            assert np.abs(own.room_c - trace.room_c).max() < 0.02
    print(f"{name}: {len(options)} options, {bench.years_run} years in {seconds:.2f} s of processor time, "
          f"{bench.years_taken_over} of {len(shared)} shared ones taken over")  # fmt: skip


def test_the_command_prints_every_part() -> None:
    got = CliRunner().invoke(app, ["units", str(SCENARIOS / "accessory_unit.toml")])
    assert got.exit_code == 0, got.output
    for words in (
        "generic, not measured, editable", "asked", "below its minimum", "starts a year", "HSPF2",
        "not a rating", "refrigerant", "not 7", "backup", "seasonal heating COP", "both ways", "if O1 fails",
        "switched off whenever", "licensed electrician", "return air", "relative humidity",
    ):  # fmt: skip
        assert words in got.output, words


def test_an_adjusted_year_says_nothing_about_damp_air() -> None:
    found = compared("ranch")
    case = replace(found.case, weather=replace(found.case.weather, latent_ok=False))
    result = found.results[0]
    told = replace(result, score=replace(result.score, measures=replace(result.score.measures, damp_frac=math.nan)))
    run = found.hours(result.option.key)
    assert any("not available" in line and "adjusted" in line for line in option_lines(case, told, run))


def test_rooms_that_can_freeze_are_cautioned() -> None:
    """Common practice: keep rooms with pipes well above freezing."""
    found = compared("cabin")
    winner = found.rank().winner
    assert winner is not None
    option = found.by_id[winner.option.option_id].option
    factory = factory_of(found.case)
    whole = "\n".join(backup_lines(found.case, backup_of(found.case, factory, option)))
    off = "\n".join(backup_lines(found.case, backup_of(found.case, factory, option, failed_in(1))))
    assert "pipes to freeze" in off
    assert "alarm" in off
    assert "pipes to freeze" not in whole


def test_one_option_and_its_figures_are_those_of_the_comparison() -> None:
    found = compared("ranch")
    key = mixes(found)[0].key
    text = units_text(found, [key])
    assert f"{found.by_id[key].score.measures.energy.electricity_kwh:,.0f} kWh" in text
    assert text.count("==") >= 3


def test_unknown_options_and_tables_are_named() -> None:
    file = str(SCENARIOS / "accessory_unit.toml")
    wrong = CliRunner().invoke(app, ["units", file, "--option", "x9"])
    assert wrong.exit_code == 2
    assert "no such option" in wrong.output
    missing = CliRunner().invoke(app, ["units", file, "--catalogue", "nowhere"])
    assert missing.exit_code == 2
    assert "not found" in missing.output


def test_a_table_with_models_is_printed_in_the_schedule(tmp_path: Path) -> None:
    """The catalogue's free text column for make and model (an invented one here)."""
    text = resources.files("compare.data.equipment").joinpath("indoor.csv").read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if line and not line.startswith("#")]
    rows = [lines[0] + ",model", lines[1] + ",text", *(line + ",Example Q-1" for line in lines[2:])]
    (tmp_path / "indoor.csv").write_text("\n".join(rows) + "\n", encoding="utf-8")
    got = CliRunner().invoke(app, ["units", str(SCENARIOS / "accessory_unit.toml"), "--catalogue", str(tmp_path)])
    assert got.exit_code == 0, got.output
    assert "(Example Q-1)" in got.output
