"""A page shows its own change at once and another's a moment later, so that a slider answers with many pages open."""

import asyncio

from gardenkit.notebook import later
from gardenkit.notebook.page import Page
from gardenkit.notebook.session import Session
from gardenkit.project.edits import brief


class Counting(Page):
    shown = 0

    def build(self) -> None:
        self.widget = self.message

    def refresh(self) -> None:
        self.shown += 1


def test_other_pages_follow_once_the_hand_is_still(empty: Session, monkeypatch) -> None:
    monkeypatch.setattr(later, "WAIT", 0.01)
    mine, other = Counting(empty), Counting(empty)

    async def slide() -> None:
        for step in range(3):
            assert mine.edit("name", lambda p, step=step: brief.set_cover(p, client=f"client {step}"))
        assert (mine.shown, other.shown) == (4, 1)
        await asyncio.sleep(0.1)
        assert (mine.shown, other.shown) == (4, 2)
        assert mine.undo()
        assert (mine.shown, other.shown) == (5, 2)
        other._repr_mimebundle_()  # shown on the page again: not a moment late
        assert other.shown == 3

    asyncio.run(slide())
    assert mine.failures == other.failures == []


def test_without_a_loop_every_page_is_up_to_date_at_once(empty: Session) -> None:
    mine, other = Counting(empty), Counting(empty)
    assert mine.edit("name", lambda p: brief.set_cover(p, client="somebody"))
    assert (mine.shown, other.shown) == (2, 2)
