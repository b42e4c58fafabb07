"""Words on pages and in client copies stand out from what they stand on: every pair of our stylesheets is reckoned."""

import re
from pathlib import Path

import pytest

import gardenkit
from gardenkit.drawing import style

ROOT = Path(gardenkit.__file__).parent
LEAST = 4.5  # WCAG 2.2, success criterion 1.4.3 Contrast (Minimum), level AA
NAMED = {  # of page.html
    "paper": style.PAPER,
    "ink": style.INK,
    "soft": style.SOFT_INK,
    "leaf": style.PLANT_INK,
    "eye": style.EYE,
    "alert": style.ALERT,
    "ground": style.GROUND["open ground"],
    "bed": style.GROUND["bed"],
}
INK = "#222222"  # of a page's text, where a rule gives only what it stands on
RULE = re.compile(r"\{([^{}]*(?:color|background)[^{}]*)\}|style=\"([^\"{}]*)\"")
TEXT = re.compile(r"(?<![-\w])color:\s*(#[0-9a-fA-F]{3,6}|var\(--\w+\))")
UNDER = re.compile(r"background(?:-color)?:\s*(#[0-9a-fA-F]{3,6}|var\(--\w+\))")


def full(colour: str) -> str:
    """A colour in six digits, looked up where it has a name."""
    if colour.startswith("var"):
        return NAMED[colour[6:-1]]
    return "#" + "".join(2 * d for d in colour[1:]) if len(colour) == 4 else colour


def pairs() -> list[tuple[str, str, str]]:
    """Every (file, ink, ground); without a ground of its own a rule stands on white and on paper."""
    found: set[tuple[str, str, str]] = set()
    for path in sorted([*ROOT.rglob("*.py"), *ROOT.rglob("*.css"), *ROOT.rglob("*.html")]):
        for one in RULE.finditer(path.read_text(encoding="utf-8")):
            rule = one.group(1) or one.group(2) or ""
            inks, grounds = TEXT.findall(rule), UNDER.findall(rule)
            if inks or grounds:
                on = [full(ground) for ground in grounds] or ["#ffffff", style.PAPER]
                found |= {(path.name, ink, under) for ink in map(full, inks or [INK]) for under in on}
    return sorted(found)


@pytest.mark.parametrize(("file", "ink", "ground"), pairs())
def test_words_stand_out_from_what_they_stand_on(file: str, ink: str, ground: str) -> None:
    assert style.contrast(ink, ground) >= LEAST, file


def test_the_stylesheets_are_found_and_their_names_known() -> None:
    assert {"controls.py", "page.css", "advice_list.py"} <= {file for file, *_ in pairs()}
    page = (ROOT / "handover" / "page.html").read_text(encoding="utf-8")
    assert set(NAMED) <= set(re.findall(r"--(\w+): \{\{", page))
