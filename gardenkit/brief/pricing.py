"""How the garden is priced: what an hour of work costs, who works, and what is added in percent. The designer's own."""

from typing import Literal

import attrs

# What a budget, or a want that names a sum, is to pay for; materials with their reserve.
Covers = Literal["plants", "plants and materials", "plants, materials and labour"]

DOLLARS = (
    "$",
    "US$",
    "USD",
)  # how US dollars are written: the money of the planning figures that come with the project


@attrs.frozen(kw_only=True, cache_hash=True)
class Pricing:
    """What prices are made up of besides the price table, in the garden's money and in percent.

    ``labour_rate`` an hour of one person, None while nobody has said one; ``crew`` people work ``day`` hours a day;
    ``delivery`` percent of plants and materials, ``tax`` percent of everything, ``contingency`` percent of plants,
    materials and labour; ``year_budget`` what can be spent in one year, None for all at once.
    """

    labour_rate: float | None = None
    crew: int = 2
    day: float = 8.0
    delivery: float = 0.0
    tax: float = 0.0
    contingency: float = 10.0
    year_budget: float | None = None


def in_dollars(currency: str) -> bool:
    """Return whether a currency, as it is written before a sum, is US dollars.

    >>> in_dollars("$"), in_dollars("NZ$ ")
    (True, False)
    """
    return currency.strip() in DOLLARS
