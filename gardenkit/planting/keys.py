"""Plant keys: the short capitals that stand on the plan and again in the plant schedule."""

from collections import defaultdict
from collections.abc import Iterable


def plant_keys(names: Iterable[str]) -> dict[str, str]:
    """Return a key for every botanical name: three letters of the genus, more where two kinds would share them.

    >>> plant_keys(["Salvia nemorosa", "Geum rivale"])
    {'Geum rivale': 'GEU', 'Salvia nemorosa': 'SAL'}
    >>> plant_keys(["Salvia nemorosa", "Salvia officinalis"])
    {'Salvia nemorosa': 'SALN', 'Salvia officinalis': 'SALO'}
    """
    keys: dict[str, str] = {}
    groups: dict[str, list[str]] = defaultdict(list)
    for name in sorted(set(names)):
        groups[_spelled(name, 1)].append(name)
    for short, group in groups.items():
        if len(group) == 1:
            keys[group[0]] = short
            continue
        keys.update(_told_apart(group))
    return dict(sorted(keys.items()))


def _told_apart(group: list[str]) -> dict[str, str]:
    for words in (2, 3, 4):
        spelled = [_spelled(name, words) for name in group]
        if len(set(spelled)) == len(group):
            return dict(zip(group, spelled, strict=True))
    return {name: f"{_spelled(name, 2)}{number}" for number, name in enumerate(group, start=1)}


def _spelled(name: str, words: int) -> str:
    """Return three letters of the genus and one of each further word, hybrid signs and quotes left out."""
    plain = [w for w in name.replace("'", "").replace("×", " ").split() if w[:1].isalpha() and w not in ("x", "var.")]
    if not plain:
        return "PLT"
    return (plain[0][:3] + "".join(word[0] for word in plain[1:words])).upper()
