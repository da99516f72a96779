"""What the desk says, against ways of working it out that are not the desk's: pandas, openpyxl, pypdf, brute force."""

from __future__ import annotations

import io
import json
import re
from typing import Any

import numpy as np
import pandas as pd
import pytest

from compare.scoring.criteria import CRITERIA
from compare.units import System
from dashboard.desk.curves import values_of
from dashboard.desk.feasible import design_rows, layout_rows
from dashboard.desk.files import FILES, SHOWN_ONLY, made, papers_of, saved_name
from dashboard.desk.filters import Filter, filter_of
from dashboard.desk.layouts import chosen, pareto_figure
from dashboard.desk.page import regions
from dashboard.desk.study import Stage, Study
from dashboard.desk.told import judged, watch_words
from dashboard.desk.trace import WEEK_H, day_words, start_of, supply_of, week_choices, week_figure, week_of, week_words
from tests.dashboard.client import all_taps, words_in
from tests.dashboard.desk_double import DeskClient, calls_of
from tests.houses import evidence_at


def _ids(study: Study) -> list[str]:
    return [item.option.option_id for item in study.ranking.ranked]


def _plain(component: Any) -> Any:
    return json.loads(json.dumps(component, default=lambda part: part.to_plotly_json()))


def test_every_layout_can_be_opened(ranch_study: Study) -> None:
    for option_id in _ids(ranch_study):
        for units in System:
            found = _plain(regions(ranch_study, option_id, units))
            assert ranch_study.names[option_id] in words_in(found["head"])
            assert len(words_in(found["last"])) > 500


def test_sentence_tells_the_place_and_a_fault(ranch_study: Study) -> None:
    winner, last = ranch_study.ranking.ranked[0], ranch_study.ranking.ranked[-1]
    first = judged(ranch_study, winner.option.option_id, System.US).sentence
    near = len(ranch_study.ranking.certainty.near) - 1  # type: ignore[union-attr]
    assert (f"level with {near} other" in first) == (near > 0)
    assert not last.place
    assert last.option.fatal[0].text.rstrip(".") in judged(ranch_study, last.option.option_id, System.US).sentence


def test_a_failed_check_is_watched_first(ranch_study: Study) -> None:
    view = ranch_study.design(ranch_study.first)
    row = view.checks[0].model_copy(update={"met": False, "design": "9.9"})
    failed = view.model_copy(update={"checks": (row, *view.checks[1:])})
    assert watch_words(failed, System.US).startswith(f"One check is not met. {row.check}: 9.9")


def test_steady_hours_are_those_of_the_evidence(ranch_study: Study) -> None:
    """Hours not below the smallest output, counted from the hourly evidence."""
    option_id = ranch_study.first
    said = judged(ranch_study, option_id, System.US).sentence
    for unit in evidence_at(ranch_study.found, option_id).compressors:
        for load, least in ((unit.heat_w, unit.heat_min_w), (unit.cool_w, unit.cool_min_w)):
            running = load > 1.0
            share = 100.0 * (1.0 - (running & (load < least)).sum() / running.sum())
            assert f"{share:.0f}" in said


def test_unbeaten_layouts_by_brute_force(ranch_study: Study) -> None:
    weights = ranch_study.ranking.weights.fracs
    counted = [c for c, weight in zip(CRITERIA, weights, strict=True) if weight > 0.0]
    alive = [item for item in ranch_study.ranking.ranked if item.place]
    scores = {item.option.option_id: np.array([item.option.score(c) for c in counted]) for item in alive}
    figure = pareto_figure(ranch_study, Filter(), ranch_study.first)["data"][0]
    assert set(figure["customdata"]) == set(scores)
    for key, symbol in zip(figure["customdata"], figure["marker"]["symbol"], strict=True):
        own = scores[key]
        beaten = any((other >= own).all() and (other > own).any() for other in scores.values())
        assert symbol.endswith("-open") == beaten, key


def test_filter_and_order(ranch_study: Study) -> None:
    every = ranch_study.ranking.ranked
    assert len(chosen(ranch_study, Filter(left_out=True))) == len(every)
    assert all(item.place for item in chosen(ranch_study, Filter()))
    cheap = chosen(ranch_study, Filter(most_usd=10_000.0, order="price"))
    prices = [item.option.price_usd for item in cheap]
    assert prices == sorted(prices)
    assert prices == sorted(i.option.price_usd for i in every if i.place and i.option.price_usd <= 10_000.0)
    assert {i.option.family for i in chosen(ranch_study, Filter(family="mix"))} == {"mix"}
    with pytest.raises(ValueError, match="price"):
        filter_of("all", -5, False, "fit")


def test_weeks_are_those_that_pandas_finds(ranch_study: Study) -> None:
    air = pd.Series(ranch_study.found.case.weather.dry_bulb_c)
    means = air.groupby(air.index // WEEK_H).mean().iloc[:52]
    assert start_of(ranch_study, "coldest") == WEEK_H * means.idxmin()
    assert start_of(ranch_study, "hottest") == WEEK_H * means.idxmax()
    assert len(week_choices(ranch_study)) == 54
    days = pd.date_range("2001-01-01", periods=365, freq="D")
    assert [day_words(day) for day in range(365)] == [f"{d:%b} {d.day}" for d in days]


def test_week_shows_the_year_of_the_layout(ranch_study: Study) -> None:
    option_id = ranch_study.first
    run = ranch_study.found.hours(option_id)
    start = start_of(ranch_study, "7")
    week = week_of(ranch_study, option_id, 1, start)
    figure = week_figure(ranch_study, week, System.SI)
    assert figure["data"][1]["y"] == pytest.approx(run.trace.room_c[start : start + WEEK_H, 1], abs=0.051)
    column, _ = supply_of(run.option, 1)
    both = np.array(figure["data"][2]["y"]) + np.array(figure["data"][3]["y"])
    assert both * 1000.0 == pytest.approx(run.trace.supply_w[start : start + WEEK_H, column], abs=5.1)
    assert "lies between" in week_words(week, System.US)


def test_supplies_of_rooms_in_every_layout(ranch_study: Study) -> None:
    """The heat of all supplies that rooms are shown with is all the heat there is."""
    for option_id in _ids(ranch_study):
        run = ranch_study.found.hours(option_id)
        columns = {supply_of(run.option, room)[0] for room in range(len(ranch_study.found.case.plan.rooms))} - {None}
        assert columns == set(range(run.trace.supply_w.shape[1])), option_id


def test_every_rejected_candidate_has_a_reason(ranch_study: Study) -> None:
    rejected = [item for item in ranch_study.ranking.ranked if item.option.rejected]
    rows = list(layout_rows(ranch_study))
    assert len([row for row in rows if row[0] == "Layout"]) == len(rejected) > 0
    for option_id in _ids(ranch_study):
        rows += design_rows(ranch_study, ranch_study.design(option_id))
    assert all(len(reason) > 8 for _, _, reason in rows)


def test_curves_stand_where_the_points_are(ranch_study: Study) -> None:
    score = ranch_study.result(ranch_study.first).score
    assert values_of(score.measures, "K") == [score.measures.price_ratio]
    assert len(values_of(score.measures, "L1")) == len(score.measures.units)
    assert values_of(score.measures, "N1")


def test_tables_open_in_other_programs(ranch_study: Study) -> None:
    import openpyxl

    option_id = ranch_study.first
    hours = pd.read_csv(io.BytesIO(made(ranch_study, option_id, "hours.csv")[1]))
    trace = ranch_study.found.hours(option_id).trace
    rooms = len(ranch_study.found.case.plan.rooms)
    assert hours.shape == (8760, 2 + rooms + trace.supply_w.shape[1])
    assert hours.iloc[:, 2 : 2 + rooms].to_numpy() == pytest.approx(trace.room_c, abs=0.0051)
    layouts = pd.read_csv(io.BytesIO(made(ranch_study, option_id, "layouts.csv")[1]))
    assert list(layouts["option"]) == _ids(ranch_study)
    loads = pd.read_csv(io.BytesIO(made(ranch_study, option_id, "loads.csv")[1]))
    own = loads[(loads["by"] == "program") & (loads["mode"] == "heating")].groupby("room")["W"].sum()
    for room in ranch_study.loads.loads.rooms:
        assert own[room.name] == pytest.approx(room.heat_w, rel=1e-6)
    book = openpyxl.load_workbook(io.BytesIO(made(ranch_study, option_id, "design.xlsx")[1]))
    assert {"options", "rooms", "loads", "design"} <= set(book.sheetnames)


@pytest.mark.slow
def test_papers_are_papers(ranch_study: Study) -> None:
    import pypdf

    for name in sorted(SHOWN_ONLY):
        kind, content = made(ranch_study, ranch_study.first, name)
        text = "".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(content)).pages)
        assert kind == "application/pdf"
        assert len(text) > 500, name


def test_a_layout_off_the_cards_has_tables_but_no_papers(ranch_study: Study) -> None:
    shown = {option.id for option in ranch_study.customer.options}
    other = next(key for key in _ids(ranch_study) if key not in shown)
    assert papers_of(ranch_study, other) == frozenset(FILES) - SHOWN_ONLY
    with pytest.raises(ValueError, match="no such file"):
        made(ranch_study, other, "crew.pdf")
    assert saved_name(ranch_study, "hours.csv").isascii()


def test_taps_of_the_page_are_understood(desk_client: DeskClient, ranch_study: Study) -> None:
    calls = calls_of(desk_client)
    taps = set()
    for body in desk_client.bodies(calls, left_out__value=True).values():
        response = desk_client.post(body)
        if response.status_code != 200:
            continue
        taps |= set(all_taps(json.loads(response.data))) | set(
            re.findall(r"open:[^\"]+", response.get_data(as_text=True))
        )
    opened = {tap.removeprefix("open:") for tap in taps if tap.startswith("open:")}
    assert opened == set(_ids(ranch_study))
    for option_id in opened:
        body = desk_client.bodies(calls, taps__tap={"what": f"open:{option_id}", "number": 2})["open.data"]
        assert json.loads(desk_client.post(body).data)["response"]["open"]["data"] == option_id


def test_a_tap_on_the_chart_opens(desk_client: DeskClient, ranch_study: Study) -> None:
    last = _ids(ranch_study)[1]
    body = desk_client.bodies(calls_of(desk_client), pareto__clickData={"points": [{"customdata": last}]})["open.data"]
    body["changedPropIds"] = ["pareto.clickData"]
    assert json.loads(desk_client.post(body).data)["response"]["open"]["data"] == last
    body["inputs"][1]["value"] = {"points": []}
    assert desk_client.post(body).status_code == 400


@pytest.mark.slow
def test_the_test_by_draws_runs_and_tells(scenarios: Any) -> None:
    import time

    from compare.house.reading import read_house
    from compare.pipeline import compare_house

    told: list[bool] = []
    study = Study(compare_house(read_house(scenarios / "accessory_unit.toml"), scenarios), lambda: told.append(True))
    assert study.tested.state is Stage.IDLE
    study.test()
    study.test()  # once is enough
    end = time.monotonic() + 120.0
    while study.tested.state not in {Stage.DONE, Stage.FAILED} and time.monotonic() < end:
        time.sleep(0.1)
    assert study.tested.state is Stage.DONE
    sure = study.tested.certainty
    assert sure is not None
    assert sure.draws > 0
    assert told == [True, True]
    assert "of 100" in judged(study, study.first, System.US).certain
