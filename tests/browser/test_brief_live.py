"""The brief from an empty garden in JupyterLab: pictures dropped and pasted, a colour typed, a want judged."""

import base64
import io
import json
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from gardenkit.project import Project
from gardenkit.storage import create

pytestmark = pytest.mark.browser

GIVE = """([kind, name, coded]) => {
    const bytes = Uint8Array.from(atob(coded), one => one.charCodeAt(0));
    const files = new DataTransfer();
    files.items.add(new File([bytes], name, {type: 'image/png'}));
    const on = document.querySelector('.gk-page .gk-wall, .gk-page .gk-pin-up');
    const options = {bubbles: true, cancelable: true, composed: true};
    on.dispatchEvent(kind === 'drop' ? new DragEvent('drop', {...options, dataTransfer: files})
                                     : new ClipboardEvent('paste', {...options, clipboardData: files})) }"""


def brief_of(garden: Path) -> dict[str, Any]:
    return json.loads((garden / "garden.json").read_text(encoding="utf-8"))["brief"]


def picture(colour: str, side: int = 900) -> str:
    """Return a picture as text; noise makes it larger than one part of what is sent at once."""
    held = io.BytesIO()
    grain = Image.effect_noise((side, side), 60).convert("RGB")
    Image.blend(grain, Image.new("RGB", (side, side), colour), 0.6).save(held, "PNG", compress_level=0)
    return base64.b64encode(held.getvalue()).decode("ascii")


def test_pictures_are_dropped_and_pasted_and_a_want_is_asked_in_an_empty_garden(open_notebook, lab) -> None:
    for old in lab.garden.glob("history*"):
        old.unlink()
    (lab.garden / "garden.json").unlink()
    create(lab.garden, Project(name="begun"))
    style = open_notebook("01_inspiration_and_style")
    style.run_all()
    style.page.wait_for_selector(".gk-pin-up")
    style.page.evaluate(GIVE, ["drop", "violet.png", picture("#755f98")])
    style.page.wait_for_selector("figure[data-picture='violet.jpg']")
    style.page.evaluate(GIVE, ["paste", "green.png", picture("#506e47", 60)])
    style.page.wait_for_selector("figure[data-picture='green.jpg'].gk-chosen")
    style.page.locator("figure[data-picture='violet.jpg']").click()
    style.page.wait_for_selector("figure[data-picture='violet.jpg'].gk-chosen")
    liked = style.page.locator(".gk-field-liked input")
    liked.fill("the violet")
    liked.press("Enter")
    typed = style.page.locator(".gk-field-add-colour input")
    typed.fill("Light coral")
    typed.press("Enter")
    style.page.wait_for_function("document.body.innerText.includes('light coral')")
    style.settle()
    held = brief_of(lab.garden)
    assert [(p["file"], p["liked"]) for p in held["pictures"]] == [("violet.jpg", "the violet"), ("green.jpg", "")]
    assert held["style"]["colours"] == ["#f08080"]

    wants = open_notebook("02_wants_list")
    wants.run_all()
    fact = wants.page.locator(".gk-choice-want-fact select").first
    wants.page.locator(".gk-field-want-text input, .gk-field-want-text textarea").first.fill("no plant toxic to dogs")
    fact.select_option(label="nothing listed as toxic")
    wants.page.locator(".gk-field-want-words input, .gk-field-want-words textarea").first.fill("dogs")
    wants.page.locator(".gk-button-add-want").first.click()
    wants.page.wait_for_function("document.body.innerText.includes('of 1 wants')", timeout=60_000)
    assert [w["asks"]["kind"] for w in brief_of(lab.garden)["wants"]] == ["safe_for"]
    assert style.errors == wants.errors == []
