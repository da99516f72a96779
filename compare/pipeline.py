"""The one place that calls the stages in order: a house in, every layout compared, a recommendation out.

Search and views are imported where they are asked for: the first ranking of the families needs neither.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from compare.house.model import HouseFile
from compare.offer import Progress, Sources, options_of, silent
from compare.options.option import Option
from compare.physics.compiled import load_compiler
from compare.scoring.evidence import Calendar
from compare.scoring.judgements import rulebook
from compare.scoring.ranking import Ranked, Ranking, rank
from compare.scoring.scores import OptionScore
from compare.scoring.season import Season, season
from compare.scoring.shown import always_shown
from compare.scoring.weights import Weights, profiles, weights_from_priorities
from compare.years.bench import Bench, Result
from compare.years.case import HouseCase, prepare
from compare.years.energy import HouseNeed
from compare.years.gather import OptionRun, Shared
from compare.years.recent import RecentHours
from compare.years.run import SETTLE_ALL
from compare.years.supplies import factory_of
from compare.zones.ears import Ear
from compare.zones.sketch import Family

if TYPE_CHECKING:
    from compare.scoring.certainty import Certainty
    from compare.search.certainty import Sampler
    from compare.search.exhaust import Searched
    from compare.search.flips import Flip
    from compare.search.kit import Kit
    from compare.search.proof import Proof
    from compare.views.customer import CustomerView

FINALIST_POINTS = 6.0
"""Options this close to a winner are settled too: twice a tie (our judgement)."""


@dataclass(frozen=True, eq=False)
class Comparison:
    """Every option of one house, run and scored. Ranking under other weights costs nothing.

    Results hold what cards, draws and flips need. Hours of an option are run again when `hours` asks for them.
    """

    case: HouseCase
    sources: Sources
    results: tuple[Result, ...]
    need: HouseNeed
    season: Season
    ears: Mapping[str, tuple[Ear, ...]]
    """What each bed and seat gets of every zone, by zone key."""
    folder: Path | None = None
    """Where a weather file that the house names is looked for."""
    proof: Proof | None = None
    """What the winner is the best of; None where only the families were compared."""
    space: Searched | None = None
    """Every layout of the enumeration; None where only the families were compared."""
    recent: RecentHours = field(default_factory=RecentHours)
    """Hours that were asked for last."""

    @cached_property
    def scores(self) -> tuple[OptionScore, ...]:
        """Scores of all options."""
        return tuple(result.score for result in self.results)

    @cached_property
    def by_id(self) -> dict[str, Result]:
        """Results by option id."""
        return {result.option.key: result for result in self.results}

    def hours(self, option_id: str) -> OptionRun:
        """An option's rooms, supplies and units by the hour, as they were when it was scored.

        Run again (5 to 60 ms; 0.2 s for an option of the common run) unless among the last that were asked for; so not
        for work over all options.

        Raises
        ------
        KeyError
            If the comparison has no such option.
        """
        result = self.by_id[option_id]
        return replace(self.recent.of(result.year), option=result.option)

    @property
    def options(self) -> tuple[Option, ...]:
        """All options."""
        return tuple(result.option for result in self.results)

    @property
    def weights(self) -> Weights:
        """Weights of the house file's priorities."""
        return weights_from_priorities(self.case.house.priorities.model_dump())

    def rank(self, weights: Weights | None = None) -> Ranking:
        """The order under some weights; under the house file's priorities when None."""
        return rank(self.scores, weights or self.weights)

    def shown(self, ranking: Ranking) -> tuple[Ranked, ...]:
        """The options that are always shown, in ranking order."""
        return always_shown(ranking, rulebook().numbers.tie_points)

    @cached_property
    def kit(self) -> Kit:
        """What runs of many layouts of this house share."""
        from compare.search.kit import Bearings, Kit

        with suppress(ImportError):  # without numba it runs in slow numpy code
            load_compiler()
        return Kit(
            Bearings(
                case=self.case,
                factory=factory_of(self.case),
                season=self.season,
                need=self.need,
                reference=_reference(self.options),
                ears=dict(self.ears),
            )
        )

    @cached_property
    def sampler(self) -> Sampler:
        """Draws of this house; each option is drawn once."""
        from compare.search.certainty import Sampler

        return Sampler(self.kit)

    def certainty(self, weights: Weights | None = None) -> Certainty:
        """How sure the winner is, by joint draws of house, units, prices, credit and weights.

        Takes some seconds at the first call; other weights are judged on the same draws.

        Raises
        ------
        ValueError
            When every option is rejected.
        """
        ranking = self.rank(weights)
        ids = self._to_draw(ranking)
        self.sampler.draw([self.by_id[option_id] for option_id in ids])
        return self.sampler.judged(ranking, ids)

    @cached_property
    def known_flips(self) -> dict[tuple[float, ...], tuple[Flip, ...]]:
        """What puts another kind of layout first, by the weights that count; `compare.turning_points` finds it."""
        return {}

    def settled_alive(self, ranking: Ranking, most: int) -> tuple[Result, ...]:
        """The best settled options that are not rejected, in ranking order."""
        found = (self.by_id[item.option.option_id] for item in ranking.ranked if item.place)
        return tuple(result for result in found if result.settled)[:most]

    def _to_draw(self, ranking: Ranking) -> tuple[str, ...]:
        """Shown options, but for those that a finding of design rejects."""
        from compare.search.certainty import CURED_BY_DRAWS

        return tuple(
            item.option.option_id
            for item in self.shown(ranking)
            if all(fault.code in CURED_BY_DRAWS for fault in item.option.fatal)
        )

    def customer_view(self, priorities: Mapping[str, int] | None = None, *, tested: bool = False) -> CustomerView:
        """All that a customer may see, under some priorities; under the house file's when None.

        With `tested` the winner is tested by draws first (some seconds); where that has been done before, its result is
        shown in any case, and so are turning points that are known.
        """
        from compare.views.assumed import simple_forms
        from compare.views.customer_build import customer_view
        from compare.views.shown import Shown

        chosen = dict(self.case.house.priorities.model_dump() if priorities is None else priorities)
        ranking = self.rank(weights_from_priorities(chosen))
        if ranking.winner is not None and (tested or self.sampler.has(self._to_draw(ranking))):
            ranking = replace(ranking, certainty=self.certainty(ranking.weights))
        return customer_view(
            Shown(
                case=self.case,
                season=self.season,
                results=self.by_id,
                ranking=ranking,
                shown=self.shown(ranking),
                placeholder_prices=any(option.price.is_estimate for option in self.options),
                demo="invented" in self.case.house.house.name,
                priorities=chosen,
                simple_forms=simple_forms(),
                flips=self.known_flips.get(ranking.weights.fracs, ()),
            )
        )


def compare_house(
    house: HouseFile,
    folder: Path | None = None,
    *,
    sources: Sources | None = None,
    progress: Progress | None = None,
) -> Comparison:
    """Compare every layout of a house.

    Parameters
    ----------
    house
        A validated house file.
    folder
        Where a weather file that it names is looked for.
    sources
        Catalogue and price list; the bundled ones when None.
    progress
        Told how far the work is.

    Raises
    ------
    HouseFileError, WeatherFileError, PlaceError, ValueError
        Each names the field and the cure.
    """
    tell = progress or silent
    tell("house, weather and loads", 0, 1)
    case = prepare(house, folder)
    tell("house, weather and loads", 1, 1)
    return replace(compare_case(case, sources or Sources.bundled(), tell), folder=folder)


def compare_case(case: HouseCase, sources: Sources, tell: Progress = silent) -> Comparison:
    """Compare every layout of a prepared house."""
    options = options_of(case, sources, tell=tell)
    numbers = rulebook().numbers
    year = season(Calendar(case.weather.dry_bulb_c), numbers)
    bench = Bench(case, factory_of(case), year, numbers)
    need = bench.need()
    shared = Shared(
        case=case,
        season=year,
        numbers=numbers,
        need=need,
        reference_usd=_reference_usd(options),
        ears=bench.ears(options, sources.units),
    )
    results: list[Result] = []
    if len(options) <= SETTLE_ALL:
        for option, first in zip(options, bench.first(options), strict=True):
            results.append(bench.result(bench.settled(option, first.doors), shared, settled=True))
            tell("years", len(results), len(options))
        return Comparison(case, sources, tuple(results), need, year, shared.ears)
    results += [bench.result(fresh, shared, settled=False) for fresh in bench.first_years(options)]
    found = Comparison(case, sources, tuple(results), need, year, shared.ears)

    def settle_one(first: Result) -> Result:
        return bench.result(bench.settled(first.option, first.year.doors), shared, settled=True)

    return _settled(found, settle_one, tell)


def _settled(found: Comparison, settle_one: Callable[[Result], Result], tell: Progress) -> Comparison:
    """A large comparison with the doors of every option that matters at its own temperatures.

    The shown options and those near a winner matter, under the chosen weights and under each profile; settling may
    bring up others, so it is repeated until none is new.
    """
    while True:
        pending = [i for i in _finalists(found) if not found.results[i].settled]
        if not pending:
            return found
        results = list(found.results)
        for done, place in enumerate(pending, start=1):
            results[place] = settle_one(results[place])
            tell("years", done, len(pending))
        found = replace(found, results=tuple(results))


def _finalists(found: Comparison) -> Sequence[int]:
    keep: set[str] = set()
    for weights in (found.weights, *(profile.weights for profile in profiles())):
        ranking = found.rank(weights)
        keep |= {item.option.option_id for item in found.shown(ranking)}
        if ranking.winner is not None:
            best = ranking.winner.total
            keep |= {i.option.option_id for i in ranking.ranked if i.place and best - i.total < FINALIST_POINTS}
    return [place for place, result in enumerate(found.results) if result.option.key in keep]


def _reference(options: Iterable[Option]) -> Option:
    """The single wall head, which every price is compared with."""
    singles = [option for option in options if option.family is Family.SINGLE_HEAD]
    if not singles:
        raise ValueError("room: no room is habitable; give at least one a use such as living or bedroom")
    return min(singles, key=lambda option: option.price.mid_usd)


def _reference_usd(options: Iterable[Option]) -> float:
    return float(_reference(options).price.mid_usd)
