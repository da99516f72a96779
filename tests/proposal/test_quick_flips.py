"""What would change the advice without a simulation: each change is checked by totals worked out here anew."""

from __future__ import annotations

import numpy as np
import pytest

from compare.scoring.criteria import CRITERIA
from compare.scoring.scores import OptionScore
from compare.turning_points import QUICK, quick_flips
from proposal.extras import with_flips
from tests.houses import compared


def family_first(options: list[OptionScore], fracs: np.ndarray) -> str:
    """Family of the best option by the plain weighted sum of its six or seven scores."""
    totals = [float(np.dot(option.scores, fracs)) for option in options]
    return options[int(np.argmax(totals))].family


@pytest.mark.slow
def test_a_changed_weight_puts_the_named_kind_first_and_a_hair_less_does_not() -> None:
    found = compared("vaulted_four")
    flips = {flip.kind: flip for flip in quick_flips(found, found.weights)}
    flip = flips["weight"]
    alive = [option for option in found.scores if not option.rejected]
    base = found.weights.array
    place = [criterion.value for criterion in CRITERIA].index(flip.subject)
    for share, first in ((flip.after, flip.family), (flip.after - 0.002, found.rank().winner.option.family)):
        fracs = base * (1.0 - share) / (1.0 - base[place])
        fracs[place] = share
        assert family_first(alive, fracs) == first


@pytest.mark.slow
def test_the_view_of_a_paper_says_what_was_tried() -> None:
    found = compared("vaulted_four")
    view = with_flips(found, found.customer_view())
    assert view.flips_tried == QUICK
    assert {flip.kind for flip in view.flips} <= set(QUICK)
    assert view.flips
