"""A small builder of SVG: every text and attribute escaped, numbers short, shapes as plain strings.

Nothing from outside can become markup: text goes through `escape`, attribute values through quoting, and names of
elements and attributes are written in this package only. Control characters, which XML forbids, are dropped.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from xml.sax.saxutils import escape, quoteattr

Value = str | float | int
_FORBIDDEN = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff\ud800-\udfff]")


def number(value: float) -> str:
    """A coordinate with at most two decimals and no trailing zeros."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text


def clean(text: str) -> str:
    """Text without the control characters that XML forbids."""
    return _FORBIDDEN.sub("", text)


def _attributes(attributes: dict[str, Value | None]) -> str:
    parts = []
    for name, value in attributes.items():
        if value is None:
            continue
        shown = value if isinstance(value, str) else number(value)
        parts.append(f" {name.rstrip('_').replace('_', '-')}={quoteattr(clean(shown))}")
    return "".join(parts)


def tag(name: str, inside: Iterable[str] | None = None, /, **attributes: Value | None) -> str:
    """One element; `stroke_width=2` becomes `stroke-width="2"`, a None value is left out."""
    if inside is None:
        return f"<{name}{_attributes(attributes)}/>"
    return f"<{name}{_attributes(attributes)}>{''.join(inside)}</{name}>"


def words(name: str, text: str, /, **attributes: Value | None) -> str:
    """An element that holds text from outside, escaped."""
    return tag(name, [escape(clean(text))], **attributes)


def group(inside: Iterable[str], /, **attributes: Value | None) -> str:
    """A group of elements; empty text for an empty group."""
    body = "".join(inside)
    return tag("g", [body], **attributes) if body else ""


def line(start: tuple[float, float], end: tuple[float, float], **attributes: Value | None) -> str:
    """A straight line."""
    return tag("line", x1=start[0], y1=start[1], x2=end[0], y2=end[1], **attributes)


def points_path(points: Iterable[tuple[float, float]], *, closed: bool) -> str:
    """Path data of a polyline or polygon."""
    body = "L".join(f"{number(x)} {number(y)}" for x, y in points)
    return f"M{body}Z" if closed else f"M{body}"


def path(data: str, /, **attributes: Value | None) -> str:
    """A path from its data."""
    return tag("path", d=data, **attributes)


def hatch_pattern(pattern_id: str, spacing_px: float, *, cross: bool, **attributes: Value | None) -> str:
    """A pattern of lines at 45 degrees, `spacing_px` apart, single or crossed."""
    size = number(spacing_px)
    data = f"M0 0V{size}" + (f"M0 0H{size}" if cross else "")
    return tag(
        "pattern",
        [path(data, fill="none", **attributes)],
        id=pattern_id,
        width=spacing_px,
        height=spacing_px,
        patternUnits="userSpaceOnUse",
        patternTransform="rotate(45)",
    )


def document(size_px: tuple[float, float], title: str, description: str, inside: Iterable[str]) -> str:
    """A whole picture with a title and a one-sentence description for screen readers."""
    width, height = size_px
    body = [words("title", title), words("desc", description), *inside]
    return tag(
        "svg",
        body,
        xmlns="http://www.w3.org/2000/svg",
        viewBox=f"0 0 {number(width)} {number(height)}",
        width=width,
        height=height,
        role="img",
        aria_label=f"{title}. {description}",
        font_family="Figtree, sans-serif",
    )
