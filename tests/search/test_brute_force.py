"""Every layout of a five-room house by slow double precision, against the quick path: same winner, same order."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from compare.house.reading import read_house
from compare.offer import options_of
from compare.physics import kernel_numpy, year
from compare.pipeline import Comparison, compare_house
from compare.scoring.judgements import rulebook
from compare.scoring.scores import score_option
from compare.search.exhaust import run_all
from compare.years.bench import Bench
from compare.years.gather import Shared, evidence_of
from compare.years.supplies import factory_of
from compare.zones.layouts import Layer, all_layouts

WEIGHTINGS = 50
TIE = 0.1
"""Points below which two totals are one: single precision, classes of the output range."""


@pytest.fixture(scope="module")
def cabin(scenarios: Path) -> Comparison:
    return compare_house(read_house(scenarios / "cabin.toml"))


@pytest.mark.slow
def test_quick_path_orders_like_the_oracle(cabin: Comparison, monkeypatch: pytest.MonkeyPatch) -> None:
    """The numpy loop in double precision, with traces; damp hours, which the quick path lacks, are left out."""
    layouts = [item.layout for item in all_layouts(cabin.case.plan, layers=frozenset([Layer.FULL]))]
    made = options_of(cabin.case, cabin.sources, layouts)
    options = [option for option in made if all(not group.shared for group in option.outdoor.groups)][:64]
    cabin.kit.hear(options, cabin.sources.units)
    quick, fatal, _ = run_all(cabin.kit, options)

    monkeypatch.setattr(year, "_kernel", lambda: kernel_numpy.run_lanes)
    numbers = rulebook().numbers
    bench = Bench(cabin.case, factory_of(cabin.case), cabin.season, numbers)
    base = cabin.kit.base
    shared = Shared(cabin.case, cabin.season, numbers, cabin.need, base.reference_usd, base.ears)
    slow, dead = [], []
    for fresh in bench.first_years(options):
        evidence = replace(evidence_of(shared, fresh.run, fresh.equal), damp_hours_frac=math.nan)
        score = score_option(evidence, cabin.season)
        slow.append(score.scores)
        dead.append(score.rejected)
    assert dead == fatal.tolist()
    alive = ~fatal
    assert alive.sum() > 20

    rng = np.random.default_rng(7)
    for weights in rng.dirichlet(np.ones(6), WEIGHTINGS):
        mine, truth = quick[alive][:, :6] @ weights, np.array(slow)[alive][:, :6] @ weights
        assert truth[mine.argmax()] >= truth.max() - TIE
        order = np.argsort(-mine)
        assert (np.diff(truth[order]) <= 2 * TIE).all()
