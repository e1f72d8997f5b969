"""The classes of token that the date grammar tells apart. Small integers, because they are compared in the inner loop."""

from typing import Final

WORD: Final = 0
NUM: Final = 1
DECADE: Final = 2  # 1760s
ORD: Final = 3  # 18th, eighteenth, XVIIIth, second, last (-1)
ORDCENT: Final = 4  # 18thC, 18C
CENT: Final = 5  # the word century
LETTER_C: Final = 6  # c., circa or century
CIRCA: Final = 7
LIKELY: Final = 8
POSSIBLE: Final = 9
QUERY: Final = 10  # ?
PART: Final = 11  # early, mid, late, beginning, end
DIVISION: Final = 12  # half, third, quarter, decade
PARTWORD: Final = 13
FILL: Final = 14
DASH: Final = 15
TO: Final = 16
AND: Final = 17
OR: Final = 18
COMMA: Final = 19
SEMI: Final = 20
SLASH: Final = 21
DOT: Final = 22
LPAR: Final = 23
RPAR: Final = 24
LBR: Final = 25
RBR: Final = 26
BEFORE: Final = 27
BY: Final = 28
AFTER: Final = 29
FROM: Final = 30
BETWEEN: Final = 31
LATER: Final = 32
EARLIER: Final = 33
THEREABOUTS: Final = 34
AD: Final = 35
BC: Final = 36
MONTH: Final = 37
SEASON: Final = 38
EVENT: Final = 39
PERIOD: Final = 40
PERIODWORD: Final = 41
REIGNOF: Final = 42
STYLE: Final = 43
STYLEOF: Final = 44
UNDATED: Final = 45
NUMBERSIGN: Final = 46
CURRENCY: Final = 47
UNIT: Final = 48
LIFE: Final = 49
PLACEWORD: Final = 50
TURN: Final = 51
ORIGINAL: Final = 52
NOT: Final = 53
QUOTE: Final = 54
MASK: Final = 55  # 17XX, 17.., 175-: value is (known digits, unknown digits)
COLON: Final = 56
COUNTRY: Final = 57
END: Final = 58
NOTBEFORE: Final = 59
NOTAFTER: Final = 60
MODELOF: Final = 61
MARK: Final = 62
PRESENT: Final = 63
STYLENOUN: Final = 64
DEPICTS: Final = 65
CARDINAL: Final = 66  # two, fifteen, sixty: of counted parts and of years in words
DECADEOF: Final = 67  # années 1920
HIJRI: Final = 68
WORDDECADE: Final = 69  # the twenties
HUNDRED: Final = 70
PARTNOUN: Final = 71  # mounts, stand, cover
REPUBLIC: Final = 72  # An VIII

BY_NAME: Final = {
    "circa": CIRCA,
    "letter_c": LETTER_C,
    "century": CENT,
    "likely": LIKELY,
    "possible": POSSIBLE,
    "fill": FILL,
    "to": TO,
    "and": AND,
    "or": OR,
    "before": BEFORE,
    "by": BY,
    "after": AFTER,
    "from": FROM,
    "between": BETWEEN,
    "later": LATER,
    "earlier": EARLIER,
    "thereabouts": THEREABOUTS,
    "ad": AD,
    "bc": BC,
    "part_word": PARTWORD,
    "undated": UNDATED,
    "style": STYLE,
    "style_of": STYLEOF,
    "period_word": PERIODWORD,
    "reign_of": REIGNOF,
    "number_sign": NUMBERSIGN,
    "currency": CURRENCY,
    "unit": UNIT,
    "life": LIFE,
    "place_word": PLACEWORD,
    "turn": TURN,
    "original": ORIGINAL,
    "not": NOT,
    "not_before": NOTBEFORE,
    "not_after": NOTAFTER,
    "reign_mark": MARK,
    "present": PRESENT,
    "style_noun": STYLENOUN,
    "depicts": DEPICTS,
    "decade_of": DECADEOF,
    "hijri": HIJRI,
    "hundred": HUNDRED,
    "part_noun": PARTNOUN,
}

PUNCTUATION: Final = {
    "-": DASH,
    "‐": DASH,
    "‑": DASH,
    "‒": DASH,
    "–": DASH,
    "—": DASH,
    "―": DASH,
    "−": DASH,
    "~": CIRCA,
    "±": CIRCA,
    "?": QUERY,
    ",": COMMA,
    ";": SEMI,
    ":": COLON,
    "/": SLASH,
    ".": DOT,
    "(": LPAR,
    ")": RPAR,
    "[": LBR,
    "]": RBR,
    "'": QUOTE,
    "’": QUOTE,
    "‘": QUOTE,
    "`": QUOTE,
    '"': QUOTE,
    "“": QUOTE,
    "”": QUOTE,
}
