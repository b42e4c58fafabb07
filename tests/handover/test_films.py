"""Films in an edition: they stand in the one file, are played with no network, and leave it under 8 MB."""

import json
import re

import pytest
from paintings import at_full_size

from gardenkit.drawing import film
from gardenkit.handover import booklet, filmed
from gardenkit.handover.contents import Contents


def test_an_edition_with_films_plays_them_and_stays_under_8_mb(told: Contents, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(film, "LAST_YEAR", 0)  # a year stands for the sixteen; its size is reckoned up below
    monkeypatch.setattr(film, "ROUND", (1, 6))
    monkeypatch.setattr(film, "MOST_STEPS", 2)
    with at_full_size():
        html = booklet.page(told, edition="office", films=filmed.films(told))
    frames = [json.loads(text) for text in re.findall(r'<script type="application/json">(.*?)</script></div>', html)]
    assert [len(pairs) for pairs in frames] == [4, 2, 2]
    assert [words.split(",")[0] for words in (pair[1] for pair in frames[1])] == ["January", "June"]
    assert all(words.startswith("year 0, ") for _, words in frames[0])
    assert all(address.startswith("data:image/webp;base64,") for pairs in frames for address, _ in pairs)
    years, months, walk = (sum(len(address) for address, _ in pairs) for pairs in frames)
    grown_up = 1.3  # times as large as a frame of the first year
    whole = len(html) + (16 * grown_up - 1) * years + 5 * months + 19 * walk
    print(
        f"page {len(html) - years - months - walk}, a frame {years / 4:.0f}; with all films about {whole / 1e6:.1f} MB"
    )
    assert whole < 8_000_000
