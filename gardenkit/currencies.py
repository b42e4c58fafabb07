"""How people write the money of a place: signs before or after a sum, and the codes that each can stand for."""

import re

CURRENCIES = (  # the codes of ISO 4217 that are in use, three letters and a space each
    "AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BGN BHD BIF BMD BND BOB BRL BSD BTN BWP BYN BZD CAD CDF CHF CLP"
    " CNY COP CRC CUP CVE CZK DJF DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GNF GTQ GYD HKD HNL HTG HUF"
    " IDR ILS INR IQD IRR ISK JMD JOD JPY KES KGS KHR KMF KPW KRW KWD KYD KZT LAK LBP LKR LRD LSL LYD MAD MDL MGA MKD"
    " MMK MNT MOP MRU MUR MVR MWK MXN MYR MZN NAD NGN NIO NOK NPR NZD OMR PAB PEN PGK PHP PKR PLN PYG QAR RON RSD RUB"
    " RWF SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TND TOP TRY TTD TWD TZS UAH UGX USD"
    " UYU UZS VES VND VUV WST XAF XCD XOF XPF YER ZAR ZMW ZWG"
)
DOLLARS = (
    "AUD BBD BMD BND BSD BZD CAD FJD GYD HKD JMD KYD LRD NAD NZD SBD SGD SRD TTD TWD USD XCD"  # dollars
    " ARS CLP COP CUP DOP MXN UYU"  # pesos, which are written with the same sign
)
SIGNS = {  # the codes that a sign can stand for, from memory
    "$": DOLLARS,
    "€": "EUR",
    "£": "GBP EGP FKP GIP LBP SHP SDG SYP",
    "¥": "JPY CNY",
    "₹": "INR",
    "₽": "RUB",
    "₩": "KRW KPW",
    "₺": "TRY",
    "₪": "ILS",
    "₫": "VND",
    "₴": "UAH",
    "₦": "NGN",
    "₱": "PHP",
    "฿": "THB",
    "₡": "CRC",
    "₲": "PYG",
    "₸": "KZT",
    "₼": "AZN",
    "₾": "GEL",
    "kr": "SEK NOK DKK ISK",
    "rs": "INR PKR LKR NPR MUR SCR",
    "fr": "CHF XAF XOF XPF BIF DJF GNF KMF RWF CDF",
    "zł": "PLN",
    "kč": "CZK",
    "lei": "RON MDL",
    "rm": "MYR",
    "rp": "IDR",
    "r": "ZAR",
    "us$": "USD",
    "a$": "AUD",
    "au$": "AUD",
    "c$": "CAD",
    "ca$": "CAD",
    "nz$": "NZD",
    "s$": "SGD",
    "hk$": "HKD",
    "nt$": "TWD",
    "mx$": "MXN",
    "r$": "BRL",
}
_SYMBOLS = "".join(sign for sign in SIGNS if len(sign) == 1 and not sign.isalpha() and sign != "$")
_MARK = rf"[A-Z]{{0,3}}\$|[{_SYMBOLS}]|kr|Kr|Rs|Fr|zł|Kč|lei|[A-Za-z]{{3}}(?![A-Za-z])"  # a sign of money, or a code
_MONEY = re.compile(rf"(?P<before>(?:{_MARK}|RM|Rp|R)\.?)?\s*(?P<amount>[^A-Za-z]*?)\s*(?P<after>(?:{_MARK})\.?)?")


def parted(typed: str) -> tuple[str, list[str]]:
    """Return a sum without the signs or codes of its money, and these; what is no money stays whole.

    >>> parted("$3,200 USD"), parted("3.200 €"), parted("90 m")
    (('3,200', ['$', 'USD']), ('3.200', ['€']), ('90 m', []))
    """
    found = _MONEY.fullmatch(typed)
    if found is None:
        return typed, []
    marks = [mark.rstrip(".") for mark in (found["before"], found["after"]) if mark]
    codes = [mark for mark in marks if mark.isascii() and mark.isalpha() and len(mark) == 3 and mark != "lei"]
    known = all(code in CURRENCIES or (code.upper() in CURRENCIES and code not in ("cup", "kgs")) for code in codes)
    twice = len(marks) == 2 and not (len(codes) == 1 and any("$" in mark for mark in marks))  # $3,200 USD
    return (found["amount"], marks) if known and not twice else (typed, [])


def written(typed: str) -> str:
    """Return a sign or code of money as it stands before a sum, "" for what is none.

    >>> written("€"), written("chf"), written("NZ$"), written("m2")
    ('€', 'CHF ', 'NZ$ ', '')
    """
    mark = typed.strip().rstrip(".")
    if mark.upper() in CURRENCIES.split():
        mark = mark.upper()
    elif not _codes(mark.casefold()):
        return ""
    return mark if len(mark) == 1 and not mark.isalpha() else f"{mark} "


def alike(mark: str, money: str) -> bool:
    """Return whether a sign or code can stand for a garden's money, as it is written; "$" alone is the US dollar.

    >>> alike("$", "NZ$ "), alike("NZ$", "$"), alike("EUR", "€"), alike("€", "$")
    (True, False, True, False)
    """
    ours, theirs = (written.strip().rstrip(".").casefold() for written in (money, mark))
    own = {"USD"} if ours == "$" else _codes(ours)
    return ours == theirs or not own.isdisjoint(_codes(theirs))


def _codes(written: str) -> set[str]:
    return set(SIGNS.get(written, written.upper() if written.upper() in CURRENCIES.split() else "").split())
