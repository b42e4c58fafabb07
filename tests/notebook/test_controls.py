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
    assert "></td>" in controls.table_html(("plant", "of them divided"), [("catmint", None)])
    assert '<td class="gk-number">12</td>' in table
    assert "<td>sage</td>" in table


def test_a_knob_moved_by_hand_is_left_where_it_is_while_the_records_follow() -> None:
    box = controls.slider("Curvature", 0.0, 0, 1, 0.01, lambda _: None)
    for percent in range(1, 101):
        box.bar.value = percent / 100  # as a browser puts it
        box.show(percent / 100)
        assert box.bar.value == percent / 100


def test_a_slider_stands_on_a_step_and_says_what_the_records_say() -> None:
    told: list[float] = []
    box = controls.slider("Width", 29.53, 18, 72, 1, told.append, show="{:.2f} in".format)
    assert box.bar.value == 30 and "29.53 in" in box.caption.value
    box.bar.value = 30.0000001  # what a browser sends back when it is opened
    assert told == []
    box.bar.value = 31
    assert told == [31] and "31.00 in" in box.caption.value
    box.show(28.5001)
    assert box.bar.value == 29 and "28.50 in" in box.caption.value and told == [31]
    box.show(5)
    assert box.bar.value == 18 and "5.00 in" in box.caption.value and told == [31]
