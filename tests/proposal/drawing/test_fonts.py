"""The shipped fonts: the PDF engine finds every style, widths agree with its measure, pages ask nothing outside."""

from __future__ import annotations

import pytest
import typst

from proposal.drawing.lettering import Type, shorten, width_px, wrap
from proposal.fonts import FACES, embedded_css, linked_css, pdf_folder, web_folder

STYLES = [("Literata", 400), ("Literata", 500), ("Literata", 600)] + [("Figtree", w) for w in (400, 500, 600, 700)]


def _compile(body: str) -> list[object]:
    source = f"#set page(width: 300pt, height: auto)\n{body}"
    _, warnings = typst.compile_with_warnings(
        source.encode(), format="pdf", font_paths=[str(pdf_folder())], ignore_system_fonts=True
    )
    return list(warnings)


@pytest.mark.parametrize(("family", "weight"), STYLES)
def test_pdf_engine_finds_each_style_without_a_warning(family: str, weight: int) -> None:
    text = "70 °F · 10 × 6 in. – ½ – ñ á ¿ ¡ Łęcki"
    assert _compile(f'#text(font: "{family}", weight: {weight}, fallback: false)[{text}]') == []


def test_italic_is_found_and_a_family_that_is_not_shipped_warns() -> None:
    assert _compile('#text(font: "Literata", style: "italic")[a]') == []
    assert _compile('#text(font: "Not shipped")[a]') != []


def test_each_weight_is_a_face_of_its_own() -> None:
    fonts = typst.Fonts(include_system_fonts=False, font_paths=[str(pdf_folder())])
    found = {(font.family, font.weight, font.style) for font in fonts.fonts() if font.family in {"Literata", "Figtree"}}
    assert {(family, weight) for family, weight, _ in found} == set(STYLES)
    assert len(found) == len(STYLES) + 1


def _measured_pt(text: str, style: Type) -> float:
    family = "Literata" if style.serif else "Figtree"
    source = (
        f'#set text(font: "{family}", weight: {style.weight}, size: {style.size_px}pt, kerning: false, '
        f'ligatures: false, features: ("tnum",))\n#context [#metadata(measure([{text}]).width.pt()) <width>]'
    )
    return float(
        typst.query(
            source.encode(),
            "<width>",
            field="value",
            one=True,
            font_paths=[str(pdf_folder())],
            ignore_system_fonts=True,
        ).strip()
    )


@pytest.mark.parametrize(
    "text", ["Bedroom 1", "as you want it", "70°", "2–3 °F below", "Cuarto de niños", "10 × 6 in."]
)
@pytest.mark.parametrize("style", [Type(14.0, 500), Type(13.5, 400), Type(13.5, 600), Type(29.0, 500, serif=True)])
def test_width_agrees_with_the_pdf_engine(text: str, style: Type) -> None:
    """Outside check: typst measures the same text with kerning and ligatures off."""
    assert width_px(text, style) == pytest.approx(_measured_pt(text, style), abs=0.05)


def test_wrapped_lines_fit_and_keep_every_word() -> None:
    style = Type(14.0, 500)
    text = "Living, dining, kitchen and hall"
    lines = wrap(text, style, 110.0)
    assert " ".join(lines) == text
    assert all(width_px(line, style) <= 110.0 for line in lines)
    assert wrap("70\u00a0°F outside", style, 10.0) == ("70\u00a0°F", "outside")


def test_shortened_text_fits() -> None:
    style = Type(14.0, 500)
    cut = shorten("A very long room name indeed", style, 100.0)
    assert cut.endswith("…")
    assert width_px(cut, style) <= 100.0
    assert shorten("Bath", style, 100.0) == "Bath"


def test_every_web_face_exists_and_css_reaches_nothing_outside() -> None:
    for face in FACES:
        assert (web_folder() / face.file_name).read_bytes()[:4] == b"wOF2"
    assert "http" not in embedded_css()
    assert embedded_css().count("@font-face") == len(FACES)
    assert "url(/assets/fonts/figtree-400.woff2)" in linked_css("/assets/fonts")


def test_licenses_are_shipped() -> None:
    for family in ("Literata", "Figtree"):
        text = (web_folder().parent / f"OFL-{family}.txt").read_text(encoding="utf-8")
        assert "SIL OPEN FONT LICENSE Version 1.1" in text
