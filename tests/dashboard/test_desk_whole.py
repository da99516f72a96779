"""The whole set of layouts at the desk: run in the background, listed, filtered, each opened in full on request."""

from __future__ import annotations

import time

import pytest

from compare.pipeline import Comparison
from dashboard.desk import whole
from dashboard.desk.every import Hunt, with_full_run
from dashboard.desk.filters import Filter
from dashboard.desk.kept import Kept
from dashboard.desk.layouts import pareto_figure
from dashboard.desk.study import Study
from dashboard.desk.whole import hunt_part, quick_chosen, quick_table
from tests.dashboard.client import words_in
from tests.jobs.small import small_comparison


@pytest.fixture(scope="module")
def found(tmp_path_factory: pytest.TempPathFactory) -> Comparison:
    return small_comparison(tmp_path_factory.mktemp("small"))


@pytest.fixture(scope="module")
def searched(found: Comparison) -> Study:
    study = Study(found)
    study.search()
    for _ in range(900):
        if study.hunt.state in {Hunt.DONE, Hunt.FAILED}:
            break
        time.sleep(0.1)
    assert study.hunt.state is Hunt.DONE
    return study


def test_before_the_run_there_is_a_button_and_no_rest(found: Comparison) -> None:
    study = Study(found)
    assert study.quick == {}
    assert quick_table(study, Filter()) == []
    assert "Run every layout" in words_in([part.to_plotly_json() for part in hunt_part(study)])


def test_all_layouts_of_the_enumeration_are_there_once(searched: Study) -> None:
    space = searched.found.space
    assert space is not None
    ids = {option.key for option in space.options}
    assert set(searched.quick) == ids - set(searched.found.by_id)
    assert searched.found.proof is not None
    assert set(searched.origin.by_id) <= set(searched.found.by_id)


def test_the_rest_is_ordered_and_filtered(searched: Study) -> None:
    best = [item.total for item in quick_chosen(searched, Filter())]
    assert best == sorted(best, reverse=True)
    prices = [item.price_usd for item in quick_chosen(searched, Filter(order="price"))]
    assert prices == sorted(prices)
    middle = sorted(prices)[len(prices) // 2]
    assert all(item.price_usd <= middle for item in quick_chosen(searched, Filter(most_usd=middle)))
    families = {item.option.family.value for item in quick_chosen(searched, Filter())}
    for family in families:
        own = quick_chosen(searched, Filter(family=family))
        assert own
        assert all(item.option.family.value == family for item in own)
    assert all(
        item.left_out
        for item in set(quick_chosen(searched, Filter(left_out=True))) - set(quick_chosen(searched, Filter()))
    )


def test_the_table_holds_the_best_and_says_how_many_there_are(searched: Study, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(whole, "MOST_QUICK", 3)
    count = len(quick_chosen(searched, Filter()))
    _, told, grid = quick_table(searched, Filter())
    assert f"{count:,} further layouts" in words_in(told.to_plotly_json())
    assert len(grid.rows) == min(3, count)  # type: ignore[attr-defined]


def test_the_chart_shows_them_too(searched: Study) -> None:
    cloud, named = pareto_figure(searched, Filter(), searched.first)["data"]
    assert len(cloud["x"]) == len(quick_chosen(searched, Filter()))
    assert set(cloud["customdata"]).isdisjoint(named["customdata"])


def test_a_layout_of_the_rest_is_opened_in_full(searched: Study) -> None:
    key, quick = next((key, item) for key, item in searched.quick.items() if not item.left_out)
    assert searched.checked(key) == key
    result = searched.result(key)
    assert result.settled
    assert searched.design(key).option_id == key
    assert key not in searched.quick
    assert searched.full_names[key]
    proof = searched.found.proof
    assert proof is not None
    # the quick run, moved by the mean difference, and the full one differ by little more than the run found elsewhere
    gap = result.score.total(searched.found.weights) - quick.total
    assert abs(gap) <= proof.scatter_points + 2.0


def test_one_more_in_full_leaves_the_others_alone(searched: Study) -> None:
    key = next(iter(searched.quick))
    before = searched.found
    after = with_full_run(before, searched.quick[key].option)
    assert after.results[:-1] == before.results
    assert after.results[-1].option.key == key


def test_an_unknown_layout_is_refused(searched: Study) -> None:
    for bad in ("nobody", 5, ["x"], ""):
        with pytest.raises(ValueError, match="no such layout"):
            searched.checked(bad)


def test_a_failed_run_is_told_and_may_be_tried_again(found: Comparison, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(_found: Comparison, _tell: object) -> Comparison:
        raise RuntimeError("broken")

    monkeypatch.setattr("dashboard.desk.study.every_layout", broken)
    study = Study(found)
    study.search()
    for _ in range(100):
        if study.hunt.state is Hunt.FAILED:
            break
        time.sleep(0.02)
    assert "failed" in words_in([part.to_plotly_json() for part in hunt_part(study)])
    assert study.found is found


def test_kept_answers_are_made_once_and_bounded() -> None:
    made: list[int] = []
    kept: Kept[int] = Kept(2)

    def make(value: int) -> int:
        made.append(value)
        return value

    assert [kept.get(k, lambda k=k: make(k)) for k in (1, 1, 2, 1, 3, 1)] == [1, 1, 2, 1, 3, 1]  # type: ignore[misc]
    assert made == [1, 2, 3]
    assert kept.get(2, lambda: make(2)) == 2
    assert made == [1, 2, 3, 2]
    with pytest.raises(ZeroDivisionError):
        kept.get(9, lambda: 1 // 0)
    assert kept.get(9, lambda: 4) == 4


def test_zones_of_the_open_layout_have_loads(searched: Study) -> None:
    for key in searched.origin.by_id:
        zones = searched.zones(key)
        rooms = [room for zone in zones for room in zone.rooms]
        assert len(rooms) == len(set(rooms))
        for zone in zones:
            ours = searched.loads.loads
            assert ours.group(zone.rooms).heat_w == pytest.approx(sum(ours.rooms[room].heat_w for room in zone.rooms))
