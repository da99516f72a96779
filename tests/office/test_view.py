"""The office view: its sums to the cent, the manager's arithmetic, risks that follow the measures, rebates and V2."""

from __future__ import annotations

import datetime as dt
import io
import json
import math
from dataclasses import replace
from decimal import Decimal

import pytest
from openpyxl import load_workbook

from compare.office.compile import job_cost
from compare.office.cost_book import Case, load_book
from compare.office.costing import by_group, hours_by_task, part_costs, total_hours_h, total_usd
from compare.office.exports import office_csv, office_json, office_sheets, office_xlsx
from compare.office.margin import Risk
from compare.office.risks import ANY, COLUMNS, RiskRule, load_rules, option_risks, together
from compare.office.view import OfficeView
from compare.office.view_build import OfficeBasis, office_view
from compare.prices.rebates import RebateKind
from compare.prices.table import TableError
from compare.prices.takeoff import take_off
from compare.rebate_choice import paid_prices, scores_as_paid, size_kbtuh, size_rules, step_up
from compare.zones.sketch import Family
from tests.houses import compared
from tests.prices.test_rebates import V2

DAY = dt.date(2026, 11, 25)
BOOK = load_book()
CENT = Decimal("0.01")


@pytest.fixture(scope="module")
def found():
    return compared("ranch")


@pytest.fixture(scope="module")
def view(found) -> OfficeView:
    return office_view(found, OfficeBasis(DAY))


def test_lines_groups_and_total_agree_to_the_cent(view):
    for option in view.options:
        direct = option.margin.direct_usd
        assert sum(line.equipment_usd + line.materials_usd + line.labour_usd for line in option.lines) == direct
        assert sum(group.mid_usd for group in option.cost) == direct
        assert sum(line.price_usd for line in option.lines) == option.price_usd
        assert sum(line.hours_h for line in option.lines) == option.margin.hours_h
        assert option.price_usd - direct == option.margin.gross_profit_usd


def test_cost_by_parts_is_the_unrounded_cost_of_the_worked_jobs_way(found):
    for option in found.options:
        quantities = take_off(option.job)
        parts, cost = part_costs(quantities, BOOK), job_cost(quantities, BOOK)
        assert abs(total_usd(parts) - cost.mid.direct_usd) < Decimal("0.005") * len(parts)
        assert total_hours_h(parts) == cost.mid.hours_h == sum(hours_by_task(parts).values())
        assert sum(high for _, _, high in by_group(parts).values()) == total_usd(parts, Case.HIGH)


def test_margin_is_the_policy_that_the_list_was_compiled_with(view):
    # price list and book are of one policy: 40 % margin is 66.7 % mark-up
    for option in view.options:
        assert abs(option.margin.margin_frac - Decimal("0.40")) < Decimal("0.0005")
        assert abs(option.margin.markup_frac - Decimal("0.6667")) < Decimal("0.0015")


def test_manager_arithmetic(view):
    for option in view.options:
        margin = option.margin
        assert margin.crew_days == pytest.approx(margin.hours_h / 16, abs=Decimal("0.000001"))
        assert abs(margin.profit_per_crew_day_usd * margin.hours_h / 16 - margin.gross_profit_usd) < Decimal("0.1")
        callbacks = sum(risk.probability_frac * risk.cost_usd for risk in option.risks)
        assert abs(margin.expected_callback_usd - callbacks) < CENT
        assert abs(margin.gross_profit_usd - margin.expected_callback_usd - margin.risk_adjusted_usd) < CENT
        # commission 7 %, card 3 %, warranty reserve 2 % of the price
        assert abs(margin.gross_profit_usd - option.price_usd * Decimal("0.12") - margin.contribution_usd) < CENT


def test_five_percent_off_takes_an_eighth_of_the_profit(view):
    # 5 % discount at 40 % margin removes 12.5 % of gross profit (arithmetic)
    for option in view.options:
        five = next(line for line in option.discounts if line.discount_frac == Decimal("0.05"))
        assert five.profit_lost_frac == pytest.approx(Decimal("0.125"), abs=Decimal("0.0002"))
        assert not five.needs_approval
        # floor 30 %: price may fall to cost / 0.70, that is by 1 - 0.60 / 0.70
        floor = 1 - Decimal("0.6") / Decimal("0.7")
        assert abs(option.margin.largest_discount_frac - floor) < Decimal("0.001")


def test_a_discount_below_the_floor_needs_approval(found):
    book = load_book()
    rows = dict(book.rows)
    rows["rate_gross_margin_floor"] = replace(rows["rate_gross_margin_floor"], figures=(Decimal("0.39"),) * 3)
    strict = office_view(found, OfficeBasis(DAY, book=type(book)(rows)))
    assert all(line.needs_approval for option in strict.options for line in option.discounts)


def rule(**more) -> RiskRule:
    return replace(RiskRule("x", "bed_dba", 30.0, 40.0, 0.2, Decimal(1), "test"), **more)


@pytest.mark.parametrize(("value", "wanted"), [(10, 0.0), (30, 0.0), (35, 0.1), (40, 0.2), (90, 0.2), (math.nan, 0.0)])
def test_probability_rises_straight_between_its_ends(value, wanted):
    assert rule().probability(value) == pytest.approx(wanted)


def test_several_rooms_are_one_visit():
    assert together({"a": 0.5, "b": 0.5}) == 0.75
    assert together({}) == 0.0


def test_each_risk_follows_its_measure(found):
    """The worst option of each measure carries the largest risk of that name."""
    rules = load_rules()
    assert {r.risk for r in rules} == {"cycling", "draught", "noise", "static", "cold_room"}
    for wanted in rules:
        rows = []
        for result in found.results:
            option, measures = result.option, result.score.measures
            risks = {one.risk.name: one for one in option_risks(measures, option, BOOK, rules)}
            assert risks[ANY].risk.probability_frac == BOOK.figure("rate_callback_rate", Case.MID)
            one = risks[wanted.risk]
            worst = max((value for _, value in one.subjects), default=0.0)
            assert (one.risk.probability_frac > 0) == bool(one.subjects)
            assert all(value > wanted.none_at for _, value in one.subjects)
            rows.append((worst, one.risk.probability_frac))
        if wanted.risk in {"cold_room", "cycling", "static"}:
            assert max(rows)[1] > 0


def test_cold_bedrooms_make_the_single_head_the_riskiest_job(view):
    single = next(option for option in view.options if option.family == Family.SINGLE_HEAD.value)
    cold = {risk.risk: risk for risk in single.risks}["cold_room"]
    assert set(cold.subjects) == set(single.comfort.cold_rooms) == {"Bedroom 1", "Bedroom 2", "Bedroom 3"}
    assert cold.cost_usd == 2 * BOOK.figure("rate_callback_cost", Case.MID)
    assert single.margin.risk_adjusted_frac == min(option.margin.risk_adjusted_frac for option in view.options)


HEAD = ",".join(COLUMNS)


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ("x,colour,1,1,2,0.2,1,office", "measure 'colour' is not one of"),
        ("x,bed_dba,dBA,40,30,0.2,1,office", "full_at must be larger"),
        ("x,bed_dba,dBA,30,40,20,1,office", "full_frac is a share"),
        ("x,bed_dba,dBA,30,40,0.2,-1,office", "cost_share = -1 is negative"),
    ],
)
def test_faults_of_the_risk_table(row, words, tmp_path):
    path = tmp_path / "own.csv"
    path.write_text(f"{HEAD}\n{row}\n", encoding="utf-8")
    with pytest.raises(TableError, match=words):
        load_rules(path)


def test_own_risk_table_counts(found, tmp_path):
    path = tmp_path / "own.csv"
    path.write_text(f"{HEAD}\nnoise,bed_dba,dBA,0,1,1,1,office\n", encoding="utf-8")
    own = office_view(found, OfficeBasis(DAY, rules=load_rules(path)))
    assert all({risk.risk for risk in option.risks} == {ANY, "noise"} for option in own.options)
    assert any(risk.probability_frac == 1 for option in own.options for risk in option.risks)


def test_only_declared_fields_pass():
    with pytest.raises(ValueError, match="extra"):
        OfficeView.model_validate({"house": "x", "wage_usd_h": 1})


# Rebates


def test_rebate_lowers_what_is_paid_and_scores_as_paid(found):
    rebate = replace(V2, size_from_kbtuh=Decimal(0), amount=Decimal(1500))
    paid = paid_prices(found, (rebate,), DAY)
    assert all(one.price_usd - one.paid_usd == 1500 for one in paid)
    old = {score.option_id: score for score in found.scores}
    for score in scores_as_paid(found, paid):
        assert score.price_usd == pytest.approx(old[score.option_id].price_usd - 1500)
        assert score.scores[:4] == old[score.option_id].scores[:4]
        assert score.scores[4] >= old[score.option_id].scores[4]


def test_v2_a_size_rule_picks_the_layout_and_the_view_says_so(found):
    """A rebate that only large outdoor units get moves the choice to one of them, though the house did not change."""
    sizes = {option.key: size_kbtuh(option) for option in found.options}
    best = found.rank().winner.option.option_id
    limit = sizes[best] + 1
    rebate = replace(V2, size_from_kbtuh=limit, amount=Decimal(12000), most_usd=Decimal(12000))
    rule_ = size_rules(found, (rebate,), DAY)[0]
    assert rule_.winner_plain == rule_.winner_free == best
    assert rule_.decides
    assert sizes[rule_.winner_with] >= limit > sizes[rule_.winner_free]
    view = office_view(found, OfficeBasis(DAY, rebates=(rebate,)))
    assert view.size_rules[0].decides
    assert "picks the layout" in view.size_rules[0].text
    assert view.option(best).rebates[0].amount_usd == 0


def test_a_small_rebate_does_not_move_the_choice(found):
    rule_ = size_rules(found, (replace(V2, amount=Decimal(10)),), DAY)[0]
    assert not rule_.decides
    assert size_rules(found, (V2.without_size_rule(),), DAY) == ()


def test_larger_units_for_the_rule_are_the_cheapest_that_reach_it(found):
    prices = found.sources.prices
    option = next(o for o in found.options if o.family.value == Family.SINGLE_HEAD.value)
    size = int(size_kbtuh(option))
    up = step_up(found, option, replace(V2, size_from_kbtuh=Decimal(size + 3)), DAY)
    stem = next(line.item for line in option.price.lines if line.item.startswith("pair_")).rpartition("_")[0]
    larger = {
        int(name.rpartition("_")[2]): row.mid_usd
        for name, row in prices.rows.items()
        if name.rpartition("_")[0] == stem and int(name.rpartition("_")[2]) >= size + 3
    }
    wanted = min(larger.values()) - prices.row(f"{stem}_{size}").mid_usd
    assert up.extra_usd == wanted
    assert up.pays == (up.rebate_usd > wanted)
    assert step_up(found, option, replace(V2, size_from_kbtuh=Decimal(size)), DAY) is None
    assert step_up(found, option, replace(V2, size_from_kbtuh=Decimal(999)), DAY) is None


def test_a_share_of_the_price_is_at_most_its_cap(found):
    rebate = replace(V2.without_size_rule(), kind=RebateKind.SHARE, amount=Decimal("0.5"), most_usd=Decimal(800))
    assert {one.rebate_usd for one in paid_prices(found, (rebate,), DAY)} == {Decimal(800)}


# Exports


def test_every_form_holds_the_same_figures(view):
    body = json.loads(office_json(view))
    assert Decimal(body["options"][0]["margin"]["direct_usd"]) == view.options[0].margin.direct_usd
    book = load_workbook(io.BytesIO(office_xlsx(view)))
    assert book.sheetnames == ["options", "costs", "risks", "discounts", "rebates", "lifetime", "size rules"]
    assert book["options"].max_row == len(view.options) + 1
    assert book["costs"].max_row == sum(len(option.lines) for option in view.options) + 1
    head = [cell.value for cell in book["options"][1]]
    first = dict(zip(head, [cell.value for cell in book["options"][2]], strict=True))
    assert first["direct_usd"] == float(view.options[0].margin.direct_usd)
    assert office_csv(view).splitlines()[0].split(",") == head
    assert all(len(row) == len(sheet.columns) for sheet in office_sheets(view) for row in sheet.rows)


def test_a_risk_with_cost_zero_costs_nothing():
    assert Risk("x", Decimal("0.5"), Decimal(0)).cost_usd == 0
