"""Views in pages and documents are painted small while tests run: by the same code, in a tenth of the time.

What a picture looks like is tested in ``tests/drawing``; where its size in a file counts, ``at_full_size`` is used.
"""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from gardenkit.drawing import film, painted_side, painted_view, painter, photo_view
from gardenkit.drawing.painted import picture

SMALL = picture.Quality(across=60, finer=1.0, detail=0.1)
OURS = (picture.FINE, picture.HALF, picture.QUICK, film.FRAME)  # what a test asks for itself is painted as asked
_full = [False]


def paint(of: picture.Subject, quality: picture.Quality = picture.FINE, **more: Any) -> picture.Painted:
    """Paint as ``picture.paint`` does, small unless ``at_full_size``."""
    return picture.paint(of, SMALL if quality in OURS and not _full[0] else quality, **more)


@contextmanager
def small() -> Iterator[None]:
    """Paint small, in this process, until the end of the block."""
    before = painted_view.paint, photo_view.MOST_ACROSS, painter.WORTH_IT, painted_side.DOTS
    painted_view.paint, photo_view.MOST_ACROSS, painted_side.DOTS = paint, SMALL.across, 0.3
    painter.WORTH_IT = 10**9  # a second process would paint at full size
    try:
        yield
    finally:
        painted_view.paint, photo_view.MOST_ACROSS, painter.WORTH_IT, painted_side.DOTS = before


@contextmanager
def at_full_size() -> Iterator[None]:
    """Paint as a designer gets it until the end of the block."""
    _full[0] = True
    try:
        yield
    finally:
        _full[0] = False
