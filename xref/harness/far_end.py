"""Where a row says its wire goes, taken as a connector and a cavity."""

from __future__ import annotations

import re

#: Without a colon: a name, another mark or a word such as `pin`, a cavity: `A30 X1/C4`, `X5-7`, `X5 pin 3`.
_FAR = re.compile(
    r"(?P<name>.*\w)(?:\s*[-/.]\s*|\s+[^\W\d]{2,}\.?\s+)(?P<cavity>[A-Za-z]{0,2}\d{1,3}[a-z]?|[A-Za-z])"
)


def far_end(text: str) -> tuple[str, str]:
    """Return the connector (with its half) and the cavity a text names, or ("", "") where it names none.

    A colon parts the two for certain. Other marks may be a part of the name itself (`L12-04`): whoever asks
    holds the two against what the documents print.
    """
    name, colon, cavity = text.strip().rpartition(":")
    if colon:
        return name.strip(), cavity.strip()
    match = _FAR.fullmatch(text.strip())
    return (match["name"], match["cavity"]) if match else ("", "")
