"""What would change the answer, one sentence each."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from compare.scoring.criteria import Kind, measure_infos
from compare.scoring.phrases import sentence, show
from compare.search.flips import Flip


def flip_sentences(flips: Iterable[Flip], family: str, name: Callable[[str], str], units: str) -> Iterator[str]:
    """One sentence for each change; one that says so when there is none.

    Parameters
    ----------
    flips
        Changes found.
    family
        Family of the recommended option.
    name
        What an option is, by its id.
    units
        `US` or `SI`.
    """
    empty = True
    for flip in flips:
        empty = False
        yield _sentence(flip, family, name(flip.winner), units)
    if empty:
        yield sentence("flips", "none")


def _sentence(flip: Flip, family: str, option: str, units: str) -> str:
    template, before, after, subject = flip.kind, "", "", flip.subject
    if flip.kind == "rate":
        before, after = f"{100.0 * flip.before:.1f}", f"{100.0 * flip.after:.1f}"
    elif flip.kind in {"insulation", "leakage"}:
        after = f"{100.0 * flip.after:.0f} %"
    elif flip.kind == "curve":
        template = "curve_level" if flip.unit == Kind.LEVEL.value else "curve"
        after = f"{flip.after:+.1f} dB" if template == "curve_level" else f"{100.0 * flip.after:.0f} %"
        subject = measure_infos()[flip.subject].name
    elif flip.kind == "price":
        template = "price_own" if flip.subject == family else "price_other"
        before, after = (show(value, Kind.MONEY, units) for value in (flip.before, flip.after))
    elif flip.kind in {"doors", "door"}:
        template = f"{flip.kind}_{'shut' if flip.after == 0.0 else 'open'}"
    elif flip.kind != "envelope":
        before, after = (show(value, Kind(flip.unit), units, digits=1) for value in (flip.before, flip.after))
    return sentence("flips", template, subject=subject, before=before, after=after, option=option)
