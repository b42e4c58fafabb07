"""What the client copy's sliders draw from: every plant, its size by year, its looks by month, the sun by class."""

import json

import attrs
import numpy as np
import pytest

from gardenkit.drawing import style
from gardenkit.drawing.garden import drawn
from gardenkit.drawing.live_copy import BLANK, LAST_YEAR, open_hours, plant_data, sun_classes
from gardenkit.geometry import plane
from gardenkit.project.season import standing
from gardenkit.site import site as sites


@pytest.fixture(scope="module")
def data(told):
    return plant_data(told.project, told.garden.catalogue)


def test_every_plant_is_there_once_and_the_tallest_last(data, told):
    assert sorted(p["n"] for p in data["plants"]) == sorted(p.number for p in told.project.planting.plants)
    heights = [data["kinds"][p["kind"]]["height"] for p in data["plants"]]
    assert heights == sorted(heights)


@pytest.mark.parametrize("year", [0, 1, 5, 10, LAST_YEAR])
def test_widths_are_those_of_the_drawn_plan(data, told, year):
    there = {p["n"]: p for p in data["plants"]}
    for plant in drawn(standing(told.project, told.garden.catalogue, year=year, month=6)):
        entry = there[plant.number]
        assert entry["spread"][year - entry["from"]] == round(plant.spread, 3)


@pytest.mark.parametrize("month", [1, 4, 6, 10])
def test_looks_are_those_of_the_drawn_plan(data, told, month):
    kinds = {p["n"]: data["kinds"][p["kind"]] for p in data["plants"]}
    for plant in drawn(standing(told.project, told.garden.catalogue, year=5, month=month)):
        kind = kinds[plant.number]
        assert kind["key"] == plant.key
        assert kind["leaf"][month - 1] == plant.leaf
        assert kind["flower"][month - 1] == (plant.flower or "")


def test_a_plant_has_a_width_for_each_year_it_stands_in_and_for_no_other(told):
    first, *rest = told.project.planting.plants
    leaving = attrs.evolve(told.project.planting, plants=(attrs.evolve(first, year=1, until=3), *rest))
    drawn_of = plant_data(attrs.evolve(told.project, planting=leaving), told.garden.catalogue)["plants"]
    (entry,) = [p for p in drawn_of if p["n"] == first.number]
    assert (entry["from"], len(entry["spread"])) == (1, 3)


def test_outlines_reach_exactly_to_one(data):
    for form in data["forms"]:
        assert max(np.hypot(form["x"], form["y"])) == pytest.approx(1.0, abs=1e-3)


def test_a_whole_garden_stays_small(data, told):
    size = len(json.dumps(data))
    assert size < 1500 * len(told.project.planting.plants)


def test_sun_classes_step_where_the_key_says():
    hours = np.array([[0.5, 1.0, 2.5, 5.0], [6.0, 8.0, 12.0, np.nan]])
    assert sun_classes(hours).tolist() == [[0, 1, 2, 4], [5, 6, 6, BLANK]]
    assert len(style.SUN_COLOURS) == 7


def test_sun_is_shown_on_open_ground_only(told):
    hours = open_hours(told.sun, told.project)
    inside = plane.inside(sites.ground(told.project.site), told.sun.grid.points).reshape(hours.shape[1:])
    assert np.isfinite(hours[5][inside]).all()
    assert np.isnan(hours[:, ~inside]).all()
