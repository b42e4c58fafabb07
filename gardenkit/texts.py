"""What a text of a garden may hold, whoever wrote it: letters that can be shown, and not too many of them."""

import re

# All limits are house values.
LONGEST_NAME = 200  # letters of a name
LONGEST_TEXT = 10_000  # letters of a note

_UNSHOWN = "\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff\ud800-\udfff\x7f-\x9f"
NO_NAME = re.compile(f"[\x00-\x1f{_UNSHOWN}]")  # signs that no name may hold
NO_TEXT = re.compile(f"[\x00-\x08\x0b\x0c\x0e-\x1f{_UNSHOWN}]")  # a note may have line breaks


def fault(text: str, *, lines: bool = False, most: int = 0) -> str:
    """Return what is wrong with a text, as the end of a sentence that begins with what it is; "" where nothing is.

    ``lines``: line breaks may stand in it; ``most``: letters, else as many as a name, or a text of lines, may have.

    >>> fault("Sage"), fault("Sa\\x00ge")
    ('', 'holds a sign that cannot be shown (U+0000 after "Sa"); type it anew')
    """
    unfit, usual = (NO_TEXT, LONGEST_TEXT) if lines else (NO_NAME, LONGEST_NAME)
    if len(text) > (most or usual):
        return f"has {len(text):,} letters; {most or usual:,} are the most"
    found = unfit.search(text)
    if found is None:
        return ""
    after = unfit.sub("", text[: found.start()])[-20:]
    return f'holds a sign that cannot be shown (U+{ord(found[0]):04X} after "{after}"); type it anew'
