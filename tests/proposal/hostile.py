"""Names that a house file may hold and that must stay text: 60 of them, for every place that a name can reach."""

from __future__ import annotations

from compare.views.customer import CustomerView
from tests.proposal.told_view import told_ranch

NAMES = (
    "<script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    "<svg onload=alert(1)>",
    "</title><script>alert(1)</script>",
    "</style><script>alert(1)</script>",
    "</svg><script>alert(1)</script>",
    "<!-- <script> -->",
    "<![CDATA[ x ]]>",
    "<iframe src='https://example.org'></iframe>",
    "<a href='javascript:alert(1)'>Bath</a>",
    "<style>*{display:none}</style>",
    "<base href='https://example.org'>",
    "<meta http-equiv='refresh' content='0'>",
    '" onmouseover="alert(1)',
    "' onmouseover='alert(1)",
    "`<b>x</b>`",
    "javascript:alert(1)",
    "data:text/html,<b>x</b>",
    "[Bath](https://example.org)",
    "![Bath](https://example.org/x.png)",
    "[Bath]: https://example.org",
    "<https://example.org>",
    "https://example.org/room",
    "www.example.org",
    "mail@example.org",
    "mailto:mail@example.org",
    "# Heading",
    "> quote",
    "- item",
    "+ item",
    "1. item",
    "1) item",
    "--- ",
    "*** ",
    "=== ",
    "**bold** and *italic*",
    "__bold__ _italic_",
    "~~struck~~",
    "| a | b |",
    "a | b",
    "```code```",
    "    code",
    "\\*escaped\\*",
    "&lt;script&gt;",
    "&#60;script&#62;",
    "&nbsp;&amp;&copy;",
    "#let x = 1",
    '#include "secret.typ"',
    '#read("/etc/hosts")',
    "$x^2$ @label <label>",
    "{room} {rooms} {those}",
    "{{ 7 * 7 }} ${7*7} %s %(x)s",
    "=1+1",
    "@SUM(A1)",
    "../../etc/hosts",
    "CON",
    "line one\nline two\r\n\tline three",
    "\u202eroom\u202c \u200bzero\u2060width\ufeff",
    "\x00null \x07bell \x1b[31mred",
    "名前 Łódź שם 😀 e\u0301 " + "long " * 60,
)


def with_name(text: str) -> CustomerView:
    """The sample ranch with one name everywhere: of the house, its place, a bedroom, a hidden place, an assumption."""
    view = told_ranch()
    data = view.model_dump()

    def changed(value: object) -> object:
        if isinstance(value, dict):
            return {key: changed(item) for key, item in value.items()}
        if isinstance(value, list | tuple):
            return [changed(item) for item in value]
        return text if value in {"Bedroom 2", "Hall ceiling", "The sample ranch", "Invented town"} else value

    data = changed(data)
    assert isinstance(data, dict)
    data["assumptions"] = [{"subject": "fabric.age", "value": text, "reason": text}]
    return CustomerView.model_validate(data)
