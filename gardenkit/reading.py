"""Numbers, money, angles, percents, dates and times as people write them; what could mean two things is asked about.

A comma or a full stop parts thousands or decimals depending on where people live. ``1,250`` and ``1.250`` mean two
things: money has no thousandths, and where only one meaning is possible that one is taken; otherwise it is asked
about. Nothing that was typed is ever cut off.
"""

import calendar
import datetime as dt
import re
from decimal import Decimal

from gardenkit import currencies
from gardenkit.findings import GardenError

MOST_DIGITS = 15  # a float holds no more exactly (IEEE 754 binary64)
MOST_TYPED = 60  # letters of what was typed that are looked at, and said again. House value.
_OF_UNITS = {"percent": "%", "%": "%", "degrees": "°"}  # the sign that may follow a number of a unit

MOST_AMOUNT = 1e9  # of money, or of anything that is counted. House value.
_SPACES = str.maketrans({"\u00a0": " ", "\u202f": " ", "\u2009": " ", "−": "-", "–": "-", "’": "'"})
_GROUPED = {  # thousands in threes, then decimals
    ",": re.compile(r"[1-9]\d{0,2}(,\d{3})+(\.\d*)?"),
    ".": re.compile(r"[1-9]\d{0,2}(\.\d{3})+(,\d*)?"),
    " ": re.compile(r"[1-9]\d{0,2}( \d{3})+([.,]\d*)?"),
    "'": re.compile(r"[1-9]\d{0,2}('\d{3})+([.,]\d*)?"),
}
_PLAIN = re.compile(r"\d+([.,]\d*)?|[.,]\d+")


class NumberError(GardenError):
    """A number that cannot be read, or that could mean two things; the message says what was typed and what to type."""


def number(text: str, what: str, *, money: bool = False) -> float:
    """Return a number: ``12,500.5``, ``1.250,5``, ``3,25``, ``12 500``, ``-4``; ``what`` names it in the message.

    One comma or full stop before exactly three digits could part thousands or decimals. For money it parts thousands
    (nobody prices in thousandths); otherwise it is asked about. Raises NumberError.

    >>> number("1.250,5", "budget")
    1250.5
    """
    found = meanings(text, what)
    if len(found) == 1 or money:
        return found[0]
    large, small = found
    raise NumberError(
        f'"{text.strip()}" for {what} could mean {large:.0f} or {small:g}; type {large:.0f}, or {small:.4f}'
    )


def meanings(text: str, what: str) -> tuple[float, ...]:
    """Return what a typed number can mean: one value, or two, the one with thousands first. Raises NumberError."""
    typed = text.strip()
    plain = typed.translate(_SPACES).strip()
    sign = -1.0 if plain.startswith("-") else 1.0
    digits = plain[1:].strip() if plain[:1] in ("-", "+") else plain
    if len(digits) > MOST_TYPED or not digits.isascii():
        raise _unread(typed, what)
    if sum(letter.isdigit() for letter in digits) > MOST_DIGITS:
        raise NumberError(f'"{_said(typed)}" for {what} has too many digits; give {MOST_DIGITS} at most')
    if re.fullmatch(r"[1-9]\d{0,2}[.,]\d{3}", digits):
        return sign * float(re.sub("[.,]", "", digits)), sign * float(digits.replace(",", "."))
    for mark, written in _GROUPED.items():
        if written.fullmatch(digits):
            return (sign * float(digits.replace(mark, "").replace(",", ".")),)
    if _PLAIN.fullmatch(digits):
        return (sign * float(digits.replace(",", ".")),)
    raise _unread(typed, what)


def _said(typed: str) -> str:
    """Return what was typed as a message says it again: of something very long only its beginning."""
    return typed if len(typed) <= MOST_TYPED else f"{typed[:MOST_TYPED]} ..."


def _unread(typed: str, what: str) -> NumberError:
    return NumberError(f'cannot read "{_said(typed)}" for {what}; type a plain number like 3 or 1.5')


def amount(text: str, what: str, *, money: str | None = None, small: bool = False) -> float:
    """Return an amount of 0 or more. ``money``: how the garden writes its own, whose sign or ISO code may stand before
    or after (``$3,200``, ``3.200 €``, ``CHF 90``), and no other's, for that is another sum; ``small``: without one it
    may have thousandths, as the price of something small.

    Raises NumberError.
    """
    typed = text.strip()
    bare, marks = typed, list[str]()
    if money is not None:
        bare, marks = currencies.parted(typed)
    try:
        value = number(bare, what, money=money is not None and (not small or bool(marks)))
    except NumberError as error:
        if "cannot read" not in str(error):
            raise
        like = "a plain number like 3 or 1.5, with no unit"
        raise NumberError(f'cannot read "{_said(typed)}" as an amount for {what}; type {like}') from error
    for mark in marks:
        if not currencies.alike(mark, money or ""):
            sums = (money or "").strip()
            said = f'"{_said(typed)}" for {what} is in {mark}, and this garden\'s sums are in {sums}'
            raise NumberError(f"{said}; give it in {sums}, or change its money beside the budget")
    if not 0 <= value < MOST_AMOUNT:
        raise NumberError(
            f'the amount "{_said(typed)}" for {what} is out of range; give 0 to less than {MOST_AMOUNT:,.0f}'
        )
    return value + 0.0  # -0 is 0


def shown(value: float) -> str:
    """Return a number as it stands in a field: in plain digits, and so that it is read as the same number again.

    >>> shown(1234567.0), shown(1.125), shown(0.00001)
    ('1234567', '1.1250', '0.00001')
    """
    plain = format(Decimal(f"{round(value, 9) + 0.0:.12g}"), "f")
    return f"{plain}0" if re.fullmatch(r"-?[1-9]\d{0,2}\.\d{3}", plain) else plain


def between(text: str, what: str, *, low: float, high: float, unit: str = "") -> float:
    """Return a number between two limits, with the sign of its unit (percent, degrees) or without; of two meanings the
    one that lies between them.

    Raises NumberError.
    """
    bare = text.strip().removesuffix(_OF_UNITS.get(unit, "")).strip()
    return _fitting(bare, what, [value for value in meanings(bare, what) if low <= value <= high], (low, high, unit))


def whole(text: str, what: str, *, low: int, high: int, unit: str = "") -> int:
    """Return a whole number between two limits; none is ever rounded. Raises NumberError.

    >>> whole("1,250", "plants", low=1, high=2000)
    1250
    """
    bare = text.strip()
    try:
        meant = meanings(bare, what)
    except NumberError as error:
        raise NumberError(
            str(error).replace("a plain number like 3 or 1.5", f"a whole number like {max(low, 3)}")
        ) from error
    found = [value for value in meant if low <= value <= high]
    even = [value for value in found if value.is_integer()]
    if found and not even:
        raise NumberError(f'"{bare}" for {what} is no whole number; give {low} to {high} {unit}'.rstrip())
    return int(_fitting(bare, what, even, (low, high, unit)))


def _fitting(bare: str, what: str, fitting: list[float], limits: tuple[float, float, str]) -> float:
    low, high, unit = limits
    if len(fitting) == 1:
        return fitting[0]
    if fitting:
        return number(bare, what)  # asks
    shown = f"{meanings(bare, what)[0]:g}"
    raise NumberError(f"{what} {shown} is outside {low:g} to {high:g} {unit}".rstrip() + "; check it")


def several(text: str) -> list[str]:
    """Return the numbers of a row, each as it is typed: parted by semicolons or tabs, else by spaces, else by commas.

    >>> several("2,5; 3,5"), several("2,5 3,5"), several("2, 3.5"), several("2,3")
    (['2,5', '3,5'], ['2,5', '3,5'], ['2', '3.5'], ['2', '3'])
    """
    row = text.strip()
    mark = next((mark for mark in (r"\s*[;\t\n]\s*", r",?\s+") if re.search(mark, row)), ",")
    return [part for part in re.split(mark, row) if part]


def months(text: str, what: str) -> tuple[int, ...]:
    """Return months typed by name or number, a run with "to" or a dash, in the order of the year. Raises NumberError.

    >>> months("April to June, Oct", "flowers"), months("11-2", "flowers"), months("", "flowers")
    ((4, 5, 6, 10), (1, 2, 11, 12), ())
    """
    found: set[int] = set()
    for piece in re.split(r"[,;]|\band\b", text.casefold()):
        ends = [end.strip(" .") for end in re.split(r"\bto\b|[-–]", piece)]
        if ends == [""]:
            continue
        numbers = [_month(end) for end in ends]
        if len(numbers) > 2 or 0 in numbers:
            said = _said(piece.strip())
            raise NumberError(f'cannot read "{said}" as months for {what}; type them like April to June, October')
        first, last = numbers[0], numbers[-1]
        found.update((first - 1 + step) % 12 + 1 for step in range((last - first) % 12 + 1))
    return tuple(sorted(found))


def _month(word: str) -> int:
    """Return the number of a month, 0 where the word is none."""
    if re.fullmatch("[0-9]{1,2}", word):
        return int(word) if 1 <= int(word) <= 12 else 0
    names = [name.casefold() for name in calendar.month_name]
    return next((n for n, name in enumerate(names) if n and len(word) >= 3 and name.startswith(word)), 0)


def date(text: str, what: str = "the date") -> dt.date:
    """Return a date typed as 2025-06-14; other orders are asked about, for 6/5 is May or June. Raises NumberError."""
    typed = text.strip()
    if re.fullmatch(r"[0-9]{4}-[0-9]{1,2}-[0-9]{1,2}", typed):
        year, month, day = (int(part) for part in typed.split("-"))
        try:
            return dt.date(year, month, day)
        except ValueError as error:
            raise NumberError(f'there is no day "{typed}" ({error}); give {what} like 2025-06-14') from error
    raise NumberError(f'cannot read the date "{_said(typed)}"; type {what} like 2025-06-14')


def time(text: str, what: str) -> dt.time:
    """Return a time of the clock: ``10:30``, ``9.15``, ``14``, ``2:30 pm``.

    ``9.5`` is no time: half past nine, or five past. Raises NumberError.
    """
    typed = text.strip()
    found = re.fullmatch(r"(\d{1,2})(?:[:.h](\d{2}))?\s*(am|pm|a\.m\.|p\.m\.)?", typed.casefold(), re.ASCII)
    if found is None:
        raise NumberError(f'cannot read the time "{_said(typed)}" for {what}; type it like 10:30')
    hour, minute, half = int(found[1]), int(found[2] or 0), (found[3] or "")[:1]
    if half and not 1 <= hour <= 12:
        raise NumberError(f'"{typed}" for {what} is no time; type it like 10:30 or 2:30 pm')
    hour = hour % 12 + (12 if half == "p" else 0) if half else hour
    if hour > 23 or minute > 59:
        raise NumberError(f'"{typed}" for {what} is no time of the day; type it like 10:30')
    return dt.time(hour, minute)
