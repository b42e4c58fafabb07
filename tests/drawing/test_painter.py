"""Views painted by two processes: the same pictures as by one, whatever becomes of the other."""

import sys

import pytest

from gardenkit.drawing import painter
from gardenkit.drawing.painted.picture import Quality
from gardenkit.drawing.painted_view import Moment, Prospect
from gardenkit.drawing.painter import Ask, Painter, painted
from gardenkit.drawing.view import Lookout
from gardenkit.planting.catalogue import load_catalogue
from gardenkit.planting.planting import Plant, Planting
from gardenkit.progress import StoppedError
from gardenkit.project import Project
from gardenkit.project.layout import layout
from gardenkit.site.site import Site

GARDEN = Project(
    name="Invented plot",
    site=Site(boundary=((-5.0, -1.0), (5.0, -1.0), (5.0, 12.0), (-5.0, 12.0))),
    planting=Planting(plants=(Plant(number=1, species="Salvia nemorosa 'Caradonna'", at=(0.0, 4.0)),)),
)
SIGHT = Prospect(project=GARDEN, worked=layout(GARDEN), catalogue=load_catalogue())
HERE = Lookout(name="here", eye=(0.0, 0.0), height=1.6, towards=0.0)
ASKED = [
    Ask(at=HERE, when=Moment(year=3, month=month), title=f"month {month}", quality=Quality(across=61, finer=1.0))
    for month in (4, 6)
]


def asked_for() -> Painter:
    both = Painter(GARDEN, SIGHT.catalogue)
    both.ask(SIGHT.worked, ASKED)
    return both


@pytest.fixture(autouse=True)
def _for_one_plant(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(painter, "WORTH_IT", 1)
    monkeypatch.setattr("os.cpu_count", lambda: 2)


def test_the_other_process_paints_the_same_pictures():
    _ = SIGHT.worked.bed_at(HERE.eye), SIGHT.worked.trodden_at(HERE.eye)  # what is remembered of it goes with it
    with asked_for() as both:
        assert both._asking is not None
        both._asking.join(60)
        assert not both._left
        assert sorted(both._made) == [0, 1]
        assert both.pictures() == [painted(SIGHT, one) for one in ASKED]
    assert both._other is not None
    assert both._other.poll() is not None


@pytest.mark.parametrize("command", ["/no/such/python", "/bin/false"])
def test_without_the_other_process_all_is_painted_here(monkeypatch: pytest.MonkeyPatch, command: str):
    monkeypatch.setattr(sys, "executable", command)
    with asked_for() as both:
        assert both.pictures() == [painted(SIGHT, one) for one in ASKED]


def test_the_other_process_ends_when_the_work_is_stopped():
    def stop(share: float, words: str) -> None:
        raise StoppedError("stopped as you asked")

    with pytest.raises(StoppedError), asked_for() as both:
        both.pictures(stop)
    assert both._other is not None
    assert both._other.poll() is not None
    assert not both._asking or not both._asking.is_alive()


def test_few_plants_are_painted_in_one_process(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(painter, "WORTH_IT", 2)
    with asked_for() as one:
        assert one._other is None


def test_the_other_process_starts_before_anything_is_asked_for_and_ends_when_nothing_is():
    with Painter(GARDEN, SIGHT.catalogue) as both:
        assert both._other is not None
        assert both.pictures() == []
    assert both._other.poll() is not None
    assert both._asking is not None and not both._asking.is_alive()
