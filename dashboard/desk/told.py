"""The sentence that judges a design, and the thing to watch."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from compare.scoring.certainty import Verdict
from compare.units import System
from compare.views.bands import unit_bands
from compare.views.customer import UnitBand
from compare.views.designer import DesignerView
from dashboard.desk.study import Study
from proposal.drawing.desk_words import pressure

TIGHT_FRAC = 0.25
"""A check whose margin is less than this share of what is allowed is worth a word (our judgement)."""


@dataclass(frozen=True, slots=True)
class Judged:
    """The sentence, and the lines after it."""

    sentence: str
    watch: str
    certain: str


def bands_of(study: Study, option_id: str) -> tuple[UnitBand, ...]:
    """Need against output of a layout's outdoor units."""
    return unit_bands(study.found.case, study.result(option_id))


def steady_words(bands: tuple[UnitBand, ...]) -> str:
    """As in `its units run steadily for 60 to 68 of 100 hours`; empty without a unit that runs."""
    steady = sorted(round(100.0 * (1.0 - band.on_off_share)) for band in bands)
    if not steady:
        return ""
    share = f"{steady[0]}" if steady[0] == steady[-1] else f"{steady[0]} to {steady[-1]}"
    who = "its units run" if len({band.label for band in bands}) > 1 else "its unit runs"
    return f"{who} steadily for {share} of 100 hours"


def verdict_words(study: Study, option_id: str) -> str:
    """What is said of a layout's place."""
    item = study.ranking.find(option_id)
    name, winner = study.names[option_id], study.ranking.winner
    if not item.place or winner is None:
        return f"{name} is left out"
    sure = study.tested.certainty or study.ranking.certainty
    several = sure is not None and sure.verdict is Verdict.TOO_CLOSE and option_id in sure.near
    if several and sure is not None and len(sure.near) > 1:
        others = len(sure.near) - 1
        return f"{name} is level with {others} other layout{'s' if others > 1 else ''}"
    if option_id != winner.option.option_id:
        return f"{name} stands {winner.total - item.total:.0f} points behind, in place {item.place}"
    said = {Verdict.CLEAR: "is clearly right", Verdict.LIKELY: "is likely right"}
    return f"{name} {said.get(sure.verdict, 'comes first') if sure else 'comes first'}"


def _static_spare(view: DesignerView, units: System) -> Iterator[tuple[float, str]]:
    for zone in view.zones:
        spare = zone.available_pa - zone.static_pa
        if zone.available_pa > 0.0 and spare >= 0.0:
            share = spare / zone.available_pa
            yield (
                share,
                f"Watch the static pressure: {pressure(spare, units)} is spare on the longest path of {zone.tag}.",
            )


def _sound_spare(view: DesignerView) -> Iterator[tuple[float, str]]:
    for zone in view.zones:
        for sheet in zone.sound:
            spare = sheet.limit_dba - sheet.level_dba
            if sheet.speed == "high" and spare >= 0.0:
                yield spare / 10.0, f"Watch the sound at {sheet.ear}: {spare:.0f} dB under what is advised."
    for one in view.outdoor:
        spare = one.limit_dba - one.line_dba
        if spare >= 0.0:
            yield spare / 10.0, f"Watch {one.tag} at the property line: {spare:.0f} dB under the limit."


def watch_words(view: DesignerView, units: System) -> str:
    """The checks that fail, else the tightest one, else that all hold with room."""
    failed = [row for row in view.checks if not row.met]
    if failed:
        first = f"{failed[0].check}: {failed[0].design}, allowed {failed[0].allowed}."
        more = f" {len(failed) - 1} more below." if len(failed) > 1 else ""
        count = "One check is" if len(failed) == 1 else f"{len(failed)} checks are"
        return f"{count} not met. {first}{more}"
    tight = min([*_static_spare(view, units), *_sound_spare(view)], default=None)
    if tight is None or tight[0] > TIGHT_FRAC:
        return f"All {len(view.checks)} checks hold."
    return tight[1]


def certain_words(study: Study) -> str:
    """How sure the order is, where it has been tested."""
    sure = study.tested.certainty
    if sure is None or not sure.draws:
        return ""
    return f"The first place holds in {sure.stays_frac * 100:.0f} of 100 joint draws."


def judged(study: Study, option_id: str, units: System) -> Judged:
    """What is said first of a layout."""
    item = study.ranking.find(option_id)
    words = verdict_words(study, option_id)
    if not item.place:
        reason = item.option.fatal[0].text.rstrip(".") if item.option.fatal else "no reason is known"
        sentence = f"{words}. {reason}."
    else:
        steady = steady_words(bands_of(study, option_id))
        sentence = f"{words}: {steady}." if steady else f"{words}."
    return Judged(sentence, watch_words(study.design(option_id, units), units), certain_words(study))
