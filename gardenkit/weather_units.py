"""The weather as people read it: temperature, rain and wind in the units of a garden and of its country.

Inside gardenkit temperatures are degrees C, rain is millimetres, wind metres a second.
"""

import attrs

from gardenkit.units import INCH, US_GALLON, System

MILE_AN_HOUR = 0.44704  # m/s, exact: the mile of 1609.344 m
KILOMETRE_AN_HOUR = 1 / 3.6  # m/s, exact
# Countries whose public forecasts give wind in metres a second; other metric ones in kilometres an hour. From memory.
WIND_IN_METRES_A_SECOND = ("CN", "CZ", "DK", "EE", "FI", "FO", "GL", "IS", "JP", "KR", "LV", "NO", "RU", "SE", "SK")


@attrs.frozen(kw_only=True)
class Scale:
    """A unit that a figure of the weather is said and typed in: ``one`` of it in SI, ``zero`` what its 0 is in SI.

    ``spelled``: the unit in a heading, where "in" could be read as a word.
    """

    unit: str
    spelled: str = attrs.field(default=attrs.Factory(lambda scale: scale.unit, takes_self=True))
    one: float = 1.0
    zero: float = 0.0
    decimals: int = 1

    def shown(self, value: float) -> float:
        """Return an SI value on this scale."""
        return (value - self.zero) / self.one

    def taken(self, typed: float) -> float:
        """Return the SI value of what was typed on this scale."""
        return typed * self.one + self.zero

    def figure(self, value: float) -> str:
        """Return an SI value as a plain figure, as finely as the unit is read."""
        return f"{self.shown(value):.{self.decimals}f}"

    def rounded(self, value: float) -> float:
        """Return an SI value on this scale as a number for a table, as finely as the unit is read."""
        return round(self.shown(value), self.decimals)

    def say(self, value: float) -> str:
        """Return an SI value with its unit.

        >>> temperature("imperial").say(30.0), rain("imperial").say(63.5)
        ('86.0 °F', '2.50 in')
        """
        return f"{self.shown(value):,.{self.decimals}f} {self.unit}"

    def typed(self, value: float) -> str:
        """Return an SI value with its unit as it is typed: three figures, no more than were measured."""
        return f"{self.shown(value):.3g} {self.unit}"

    def span(self, low: float, high: float) -> str:
        """Return two SI values with one unit: 5.0 to 10.0 °F."""
        return f"{self.figure(low)} to {self.figure(high)} {self.unit}"


CELSIUS, FAHRENHEIT = Scale(unit="°C"), Scale(unit="°F", one=5 / 9, zero=-160 / 9)
MILLIMETRES, INCHES = Scale(unit="mm", decimals=0), Scale(unit="in", spelled="inches", one=INCH * 1000, decimals=2)
MILLIMETRES_A_DAY = Scale(unit="mm")
INCHES_OF_SOIL = Scale(unit="in", spelled="inches", one=INCH * 1000)
LITRES, GALLONS = Scale(unit="litres", decimals=0), Scale(unit="US gallons", one=US_GALLON, decimals=0)
PLAIN = Scale(unit="")


def temperature(units: System) -> Scale:
    """Return the scale of temperatures."""
    return FAHRENHEIT if units == "imperial" else CELSIUS


def rain(units: System) -> Scale:
    """Return the scale of rain, and of what is drawn from the ground."""
    return INCHES if units == "imperial" else MILLIMETRES


def drawn(units: System) -> Scale:
    """Return the scale of what the air draws from the ground in a day."""
    return INCHES if units == "imperial" else MILLIMETRES_A_DAY


def held(units: System) -> Scale:
    """Return the scale of water in the soil, and of how fast it drains in an hour.

    >>> held("imperial").say(45.7), held("metric").say(45.7)
    ('1.8 in', '46 mm')
    """
    return INCHES_OF_SOIL if units == "imperial" else MILLIMETRES


def water(units: System) -> Scale:
    """Return the scale of supplementary watering; litres within."""
    return GALLONS if units == "imperial" else LITRES


def wind(units: System, country: str | None = None) -> Scale:
    """Return the scale of wind: miles an hour in an imperial garden, else as the country (ISO 3166) forecasts it.

    >>> wind("imperial", "US").say(2.0), wind("metric", "SE").say(2.0), wind("metric", "NZ").say(2.0)
    ('4.5 mph', '2.0 m/s', '7.2 km/h')
    """
    if units == "imperial":
        return Scale(unit="mph", one=MILE_AN_HOUR)
    if country in WIND_IN_METRES_A_SECOND:
        return Scale(unit="m/s")
    return Scale(unit="km/h", one=KILOMETRE_AN_HOUR)
