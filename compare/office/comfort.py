"""What the manager weighs margin against: comfort score, cold rooms, draughts, noise, size, static."""

from __future__ import annotations

import math

from compare.office.risks import static_fracs
from compare.office.view import ComfortLine
from compare.options.option import Option
from compare.scoring.criteria import Criterion
from compare.scoring.judgements import rulebook
from compare.scoring.scores import OptionScore


def comfort_line(score: OptionScore, option: Option, oversize: float) -> ComfortLine:
    """The comfort side of one option."""
    measures, numbers = score.measures, rulebook().numbers
    beds = [room.bed_dba for room in measures.rooms if not math.isnan(room.bed_dba)]
    static = static_fracs(option)
    return ComfortLine(
        comfort_score=score.score(Criterion.COMFORT),
        cold_rooms=tuple(
            room.room.name
            for room in measures.rooms
            if room.regular_bedroom and room.morning_drop_k > numbers.cold_margin_k
        ),
        draughty_rooms=tuple(
            room.room.name for room in measures.rooms if room.judged and room.draught_frac > numbers.amber_draught_frac
        ),
        loudest_bed_dba=max(beds, default=None),
        oversize_ratio=oversize,
        static_spare_frac=1.0 - max(static.values()) if static else None,
        most_starts_per_y=max((unit.starts_per_y for unit in measures.units), default=0.0),
    )
