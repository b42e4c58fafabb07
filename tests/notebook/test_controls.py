"""The parts of a page: project text is words there, never markup, and a control shown by the records calls no one."""

from gardenkit.notebook import controls
from gardenkit.notebook.page import escaped

EVIL = '<img src=x onerror="alert(1)">&'
SAFE = "&lt;img src=x onerror=&quot;alert(1)&quot;&gt;&amp;"


def test_project_text_is_words_wherever_it_is_shown() -> None:
    message = controls.Message()
    message.say(EVIL)
    said = message.value
    message.problem(EVIL)
    shown = (
        said,
        message.value,
        controls.label(EVIL).value,
        controls.table_html((EVIL,), [(EVIL,)], caption=EVIL),
        escaped(EVIL),
    )
    for text in shown:
        assert "<img" not in text
        assert SAFE in text


def test_a_control_shown_by_the_records_calls_no_one() -> None:
    called: list[object] = []
    bar = controls.slider("Bend", 0.2, 0, 1, 0.1, called.append)
    bar.show(0.5)
    assert (bar.bar.value, called) == (0.5, [])
    bar.bar.value = 0.7
    assert called == [0.7]


def test_a_slider_starts_within_its_range() -> None:
    assert controls.slider("Width", 900.0, 18, 72, 1, lambda _: None).bar.value == 72


def test_numbers_stand_right_and_words_left() -> None:
    table = controls.table_html(("plant", "count"), [("catmint", 3), ("sage", 12)])
    assert '<td class="gk-number">12</td>' in table
    assert "<td>sage</td>" in table
