# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""What one writer does throughout a text, and a line of that writer in plain signs."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import Final

import attrs

from loopwright.pattern._rewording.again_in_words import again_in_words
from loopwright.pattern._rewording.all_round import with_all_round
from loopwright.pattern._rewording.back_to_rounds import with_rounds_again
from loopwright.pattern._rewording.before_instep import with_instep_named
from loopwright.pattern._rewording.begun_with import with_sts_begun
from loopwright.pattern._rewording.between_sizes import by_sign
from loopwright.pattern._rewording.by_the_way import without_what_is_by_the_way
from loopwright.pattern._rewording.drawn_up import with_sts_drawn_up
from loopwright.pattern._rewording.each_stitch import with_each_stitch
from loopwright.pattern._rewording.evenly import with_even_shaping
from loopwright.pattern._rewording.every_needle import with_every_needle
from loopwright.pattern._rewording.gusset_widths import with_gusset_widths
from loopwright.pattern._rewording.how_far_in_words import how_far_in_words
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.named_tools import (
    PIN,
    as_needle,
    marker_names,
    needle_names,
    says_pins,
    with_markers,
    with_needles,
)
from loopwright.pattern._rewording.one_of_them import with_one_of_them
from loopwright.pattern._rewording.or_as_long import without_as_long_as_liked
from loopwright.pattern._rewording.other_half import with_other_half
from loopwright.pattern._rewording.over_all_sts import without_all_sts
from loopwright.pattern._rewording.own_units import (
    blocks_of,
    has_points,
    with_blocks,
    with_step_numbers,
)
from loopwright.pattern._rewording.rows_so_often import with_rows_so_often
from loopwright.pattern._rewording.set_on_thread import with_sts_set_aside
from loopwright.pattern._rewording.shaped_ends import with_shaped_ends
from loopwright.pattern._rewording.sheets import out_of_table
from loopwright.pattern._rewording.so_many_more import with_so_many_more
from loopwright.pattern._rewording.so_on import so_on_until
from loopwright.pattern._rewording.stopped_when import with_ends
from loopwright.pattern._rewording.striped import (
    StripeSequence,
    only_listed,
    stripe_sequence,
    with_sequences,
)
from loopwright.pattern._rewording.terse import spelt_out
from loopwright.pattern._rewording.thumbs_again import with_thumbs_again
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.without_plain import with_every_round
from loopwright.pattern._rewording.wordings import tidied
from loopwright.pattern._rewording.works_in_turn import with_works_apart

__all__ = [
    "Habits",
    "begins_here",
    "goes_to",
    "habits_of",
    "is_size_label",
    "only_sizes",
    "sizes_first",
    "sizes_named",
    "with_all_sizes",
]

_HAND = WordForm(
    r"(?:for (?:the )?)?(?P<side>left|right|second)(?:[- ]hand)? (?:hand|mitt|mitten|glove|sock|stocking|wrist\w*|slipper|thumb)s?(?: only)?\s*[:,–—-]\s*(?=\S)",
)
_ONLY = WordForm(r"(?:for )?sizes?\s+(?P<names>[^:]{1,60}?)\s+only\s*[:,]\s*")


_PLACES = {
    "1st": 0, "first": 0, "smallest": 0, "smaller": 0, "2nd": 1, "second": 1, "3rd": 2, "third": 2,
    "4th": 3, "fourth": 3, "5th": 4, "fifth": 4, "largest": -1, "larger": -1, "last": -1,
    "small": 0, "large": -1,
}  # fmt: skip
_PLACE = "|".join(_PLACES)
_BY_ORDER = WordForm(
    rf"(?:for )?(?:the )?(?P<names>(?:{_PLACE})(?:(?:,| and|,? &) (?:the )?(?:{_PLACE}))*) sizes?(?: only\s*[:,]|:(?=\s+(?:rounds?|rnds?|rows?)\b))\s*",
)
_OF_THE_ENDS = WordForm(  # "both larger sizes: …", "the two smallest sizes only: …"
    r"(?:for )?(?:the )?(?P<names>(?:both|two|2|three|3) (?:of the )?(?:larg|bigg|small)(?:er|est)|(?:larg|bigg|small)(?:er|est) (?:two|2|three|3))(?: sizes?)?(?: only)?:\s*",
)

_MANY_OF_THE_ENDS = WordForm(
    r"(?=.*\b(?:larg|bigg|small)(?:er|est)\b).*\b(?:(?P<three>three|3)|both|two|2)\b"
)


_UNNAMED = WordForm(  # "Large only:" where nothing names the sizes
    r"(?:for )?(?:the )?(?P<names>small(?:er|est)?|large(?:r|st)?)(?: sizes?)? only\s*[:,]\s*",
)
_SIMPLE = WordForm(r"^the |['’]s$", re.NOFLAG)


_WORKS = r"(?:(?:next |every |each )?(?:rounds?|rnds?|rows?)\b|(?:inc|dec)\w* (?:rounds?|rnds?|rows?)\b|[*(\[]|[kp] ?\d|(?:knit|purl|work|repeat|rep|dec|inc)\b)"
_BARE = WordForm(
    rf"(?:for )?(?:the )?[\w .&,/+-]{{1,40}}:(?:\s+{_WORKS}|\s*$)"
)  # "M and L: Rnd 3: …"


def sizes_named(names: str, sizes: Sequence[str]) -> tuple[str, ...]:
    """Return which sizes are meant by their names, or by their order.

    Examples
    --------
    >>> sizes_named("2nd and 3rd", ("S", "M", "L"))
    ('M', 'L')
    >>> sizes_named("Woman's and the Man", ("Child", "Woman", "Man"))
    ('Woman', 'Man')
    """
    known = {name.lower(): name for name in sizes}
    if ends := _MANY_OF_THE_ENDS.match(names):
        many = 3 if ends["three"] else 2
        return tuple(sizes[:many] if "small" in names.lower() else sizes[-many:])
    found = []
    for name in re.split(r"\s*,\s*(?:and\s+)?|\s+and\s+|\s*[&/]\s*", names.strip()):
        word = name.lower() if name.lower() in known else _SIMPLE.sub("", name.lower())
        place = _PLACES.get(word)
        by_order = word not in known and place is not None and -len(sizes) <= place < len(sizes)
        found.append(sizes[place] if by_order else known.get(word, name))  # type: ignore[index]
    return tuple(found)


def only_sizes(text: str, start: int, sizes: Sequence[str]) -> re.Match[str] | None:
    """Find "size M only:" or, where that is the name of a size, "Adult only:", "Man's size:"."""
    if not re.search(r"\b(?:only|sizes?|more)\b", text, re.I) and not _BARE.search(text, start):
        return None
    if match := _ONLY.match(text, start) or _BY_ORDER.match(text, start):
        return match
    if (match := _OF_THE_ENDS.match(text, start)) and len(sizes) > len(
        sizes_named(match["names"], sizes)
    ):
        return match
    if len(sizes) < 2:
        return None
    if all(map(str.isdigit, sizes)) and (match := _UNNAMED.match(text, start)):
        return match
    named = "|".join(re.escape(name) for name in sizes)
    names = rf"(?P<names>(?:{named})(?:(?:['’]s)?(?:,| and|,? &) (?:the )?(?:{named}))*)(?:['’]s?)?"
    lead = (
        r"(?:(?:only )?(?:for|in) |if (?:you are |you're )?(?:making|knitting|working) )?(?:the )?"
    )
    more = r"(?: sizes?)? (?:works?|knits?|does|do|has|have) (?:[a-z]+|\d+) (?:more (?:rows?|rounds?|rnds?)|(?:rows?|rounds?|rnds?) more)(?: (?:now|here))?"  # "B works two rows more: …"
    form = rf"{lead}(?:group )?{names}(?:(?: sizes?)? only\s*[:,]|(?<=['’]s) sizes?:|{more}:)\s*"
    if match := re.compile(form, re.IGNORECASE).match(text, start):
        return match
    sized = names.replace("(?:['’]s?)?", "(?: sizes?)?").replace("(?:,| and", "(?:,| and| ?/")
    sized = sized.replace("&) (?:the )?", "&|/) ?(?:the )?")
    label = rf"(?:for )?(?:the )?(?P<sized>sizes? )?{sized}:(?:\s+(?={_WORKS})|$|\s+(?=$))"
    match = re.compile(label, re.IGNORECASE).match(text, start)  # "Sizes M and L: Rnd 3: …"
    meant = sizes_named(match["names"], sizes) if match else ()
    return match if match and set(meant) < set(sizes) else None


def is_size_label(text: str, sizes: Sequence[str]) -> bool:
    """Tell whether a line only says whose the rows below it are: "Adult only:", "All sizes:".

    Examples
    --------
    >>> sizes = ("Child", "Adult")
    >>> [is_size_label(said, sizes) for said in ("Adult only:", "All sizes", "Adult only: K2.")]
    [True, True, False]
    """
    bare = text.strip(" .:")
    if len(sizes) < 2 or not re.search(r"\b(?:only|sizes)$|^sizes? ", bare, re.IGNORECASE):
        return False
    if re.fullmatch(r"(?:for )?(?:all|both) sizes", bare, re.IGNORECASE):
        return True
    only = only_sizes(f"{bare}: ", 0, sizes)
    return only is not None and only.end() == len(bare) + 2


_ROW_OF_SIZES = WordForm(
    r"(?P<row>(?:rounds?|rnds?|rows?) \d{1,3}(?: ?(?:-|–|to|and|&) ?\d{1,3})?)"
    r"(?: ?\((?P<names>[^()]{1,40})\)|(?:,| for| [–—-]) (?P<names2>[^,:;.]{1,40}))(?=:)",
)
_FOR_SIZES = WordForm(r"^(?:for )?(?:the )?(?:sizes? )?|(?: sizes?)?(?: only)?$")


def sizes_first(said: MappedText, sizes: Sequence[str]) -> MappedText:
    """Put "Round 1 (Large): …" as "Size Large only: Round 1: …", where sizes have such names.

    Examples
    --------
    >>> sizes_first(MappedText.of("Rnd 1 (M, L): Knit."), ("S", "M", "L")).text
    'Sizes M, L only: Rnd 1: Knit.'
    """
    if len(sizes) < 2 or (match := _ROW_OF_SIZES.match(said.text)) is None:
        return said
    names = _FOR_SIZES.sub("", match["names"] or match["names2"])
    named = sizes_named(names, sizes)
    if not set(named) < set(sizes) or any(map(str.isdigit, named)):
        return said
    lead = "Sizes" if len(named) > 1 else "Size"
    return said.sub(_ROW_OF_SIZES, f"{lead} {names} only: {match['row']}")


_NONE_FIRST = WordForm(
    r"[-–—]+ ?(?P<more>[(\[] ?[\d–—-]+(?:, ?[\d–—-]+)* ?[)\]])", re.NOFLAG
)  # "k- (2, 3)"


def begins_here(text: str, start: int, sizes: Sequence[str]) -> re.Match[str] | None:
    """Find "Adult begins here:": the size joins in rows that larger ones have worked before it.

    Examples
    --------
    >>> begins_here("Adult begins here: *K10, k2tog.", 0, ("Child", "Adult"))["names"]
    'Adult'
    """
    if len(sizes) < 2 or not re.search(r" (?:here|now)\b", text, re.IGNORECASE):
        return None
    named = "|".join(re.escape(name) for name in sizes)
    names = (
        rf"(?:the )?(?:sizes? )?(?P<names>(?:{named})(?:(?:,| and|,? &) (?:{named}))*)(?: sizes?)?"
    )
    other = names.replace("?P<names>", "?P<names2>")
    joins = r"(?:now )?(?:begin|start|join(?:s? in)?)s? (?:here|now)"
    maker = r"(?:if (?:you(?:['’]re| are)? )?(?:knit|mak|work|do)\w* (?:the )?)?"
    form = rf"\(?(?:(?:for )?{maker}{names}[:,]? {joins}|{joins} (?:for|with|in) {other})\.?\)?\s*(?:[:.,–—-]\s*|(?<=\))\s*|(?<=\) ))"
    return re.compile(form, re.IGNORECASE).match(text, start)


def goes_to(text: str, start: int, sizes: Sequence[str]) -> re.Match[str] | None:
    """Find "Child: go to ** below.": the size leaves out what stands before the mark.

    Examples
    --------
    >>> goes_to("Child: go on to ** below.", 0, ("Child", "Adult"))["mark"]
    '**'
    """
    if len(sizes) < 2 or " to " not in text.lower():
        return None
    named = "|".join(re.escape(name) for name in sizes)
    names = rf"(?:for |the |sizes? )*(?P<names>(?:{named})(?:(?:['’]s?)?(?:,| and|,? &) (?:{named}))*)(?:['’]s?)?(?: sizes?)?(?: only)?"
    form = rf"{names} ?[:,–-] ?(?:now |then |please )*(?:go|skip|jump|move|proceed|continue|pass)(?: on| straight| directly| ahead| down)* to (?:the )?(?:(?:line|round|row|rnd|place) )?(?:marked |with )?(?P<mark>\*\*+|[†‡#]+|(?:all|both) sizes\b)"
    return re.compile(form, re.IGNORECASE).match(text, start)


_NUMBERS_BY_SIZE = WordForm(r"\d+(?: ?[(\[] ?\d+(?:, ?\d+)* ?[)\]])", re.NOFLAG)


_REPEATED_ALIKE = WordForm(  # "M and L only: Work next 2 rows 3 times in all:"
    r"(?P<head>\bwork (?:the )?next \d+ (?:rounds?|rnds?|rows?)\b[^:;.()]*? )"
    r"(?:(?P<times>\d+) times|once|(?P<two>twice))\b(?=[^;.]*:)",
)


def with_all_sizes(
    said: MappedText, start: int, only: Sequence[str], sizes: Sequence[str]
) -> MappedText:
    """Give each size a place in numbers that stand for some sizes only: "6 (8)" of three sizes."""
    if not 1 <= len(only) < len(sizes) or not set(only) <= set(sizes):
        return said

    def none_left(match: re.Match[str]) -> str:
        told = len(re.findall(r"\d+|[-–—]+", match["more"]))
        return (
            f"0 {match['more']}" if match.start() >= start and told == len(sizes) - 1 else match[0]
        )

    def spread_times(match: re.Match[str]) -> str:
        if match.start() < start:
            return match[0]
        times = match["times"] or ("2" if match["two"] else "1")
        first, *rest = [times if name in only else "0" for name in sizes]
        return f"{match['head']}{first} ({', '.join(rest)}) times"

    said = said.sub(_NONE_FIRST, none_left).sub(_REPEATED_ALIKE, spread_times)
    if len(only) == 1:
        return said

    def spread(match: re.Match[str]) -> str:
        told = re.findall(r"\d+", match[0])
        if match.start() < start or len(told) != len(only):
            return match[0]
        by_name = dict(zip(only, told, strict=True))
        first, *rest = [by_name.get(name, "0") for name in sizes]
        return f"{first} ({', '.join(rest)})"

    return said.sub(_NUMBERS_BY_SIZE, spread)


_QUOTED = re.compile(  # "Take-off decrease" means: take 1 st off …
    r"\"(?P<name>[A-Za-z0-9][^\"\n]{3,30})\" (?:means|is to|stands for|=):? (?:to )?(?P<means>(?:sl(?:ip)?|k(?:nit)?|p(?:url)?|take|yarn over|make|inc|dec)\b[^.\"\n]{2,120}?)(?=[.;]| without| with the yarn|$)",
    re.MULTILINE,
)
_BAR_IN_GAP = WordForm(
    r"\"(?P<name>[a-z][a-z -]{2,20})\" (?:means|is to|stands for|=):? (?:to )?(?:pick(?:ing)? up|lift(?:ing)?|tak(?:e|ing)(?: up)?) (?:the |a )?(?:[a-z]+ )?(?:bar|strand|thread|loop)\b[^.\"\n]*\b(?:gap|turn|hole)\b[^.\"\n]*\b(?:together |tog )?with (?:the )?(?:next |following )?st(?:itch)?\b",
)
_A_STITCH = WordForm(
    r"(?:[kp]\d ?tog|s+k\w?|m1[lr]?p?|[kp]1?fb|s?sk2?po?|yo|w&t|cdd|wrap(?: (?:and|&) turn)?|yarn over|make (?:one|1)(?: (?:left|right))?|double stitch)\W*",
)
_COMMA = WordForm(r"(?<=\d),(?=(?:5|25|75)\b)", re.NOFLAG)


_IN_ONE_FORM: Final = (
    without_as_long_as_liked,
    tidied,
    without_what_is_by_the_way,
    with_ends,
    with_shaped_ends,
    with_one_of_them,
    with_works_apart,
    with_every_round,
    again_in_words,
    with_sts_begun,
    so_on_until,
    with_rounds_again,
    without_all_sts,
    with_all_round,
    with_rows_so_often,
    with_so_many_more,
    with_even_shaping,
    with_every_needle,
    with_instep_named,
    with_each_stitch,
    with_thumbs_again,
    with_sts_drawn_up,
    with_other_half,
    with_gusset_widths,
    with_sts_set_aside,
    how_far_in_words,
    spelt_out,
    out_of_table,
)


@lru_cache(maxsize=8192)
def _plainly(text: str, sizes: int, sign: str, pins: bool, points: bool) -> MappedText:
    said = with_step_numbers(MappedText.of(text)) if points else MappedText.of(text)
    said = by_sign(said.sub(PIN, as_needle) if pins else said, sizes, sign)
    number = _STEP_NUMBER.match(said.text)
    start = number.end() if number else 0
    rest = said.cut(start, len(said.text))
    for put in _IN_ONE_FORM:
        rest = put(rest)
    return said.cut(0, start).and_then(rest) if start else rest


_STEP_NUMBER = WordForm(r"step +\d{1,4} *[.:)–-] +(?=\S)|\d{1,2}\.\d{1,2}\.?:? +(?=[A-Za-z*(\[])")


@attrs.define
class Habits:
    """How the writer of a text writes: names of markers, signs between sizes, one of a pair."""

    markers: dict[str, str]
    needles: dict[str, int] = attrs.field(factory=dict)
    called: dict[str, str] = attrs.field(factory=dict)  # what the text calls its stitches
    decimal_comma: bool = False  # "needles 2,5 mm"
    sign: str = ""  # what stands between the numbers of sizes: / or : or -
    sizes: int = 0  # for how many the text casts on, where it does not name them
    small: bool = False  # whether sentences begin in small letters
    told_once: set[str] = attrs.field(factory=set)  # names of panels whose one row is written out
    panel: str = ""  # stitches of the one panel that the text tells the width of
    stripes: StripeSequence | None = None  # that the text calls by its name
    pins: bool = False  # whether needles are called pins
    points: bool = False  # whether steps have two numbers: "1.1", "1.2"
    blocks: dict[str, str] = attrs.field(factory=dict)  # names of so many rounds: "one stripe"
    bare_counts: bool = False  # whether "k1 (33)" at the end of a row can only be its count
    one_of_pair: str = ""  # left or right, where both are told apart

    def spelt_out(self, text: str, sizes: int) -> MappedText:
        """Return a line in plain signs, as others would write it."""
        if self.small:
            text = _SMALL.sub(_capital, text)  # as long as before
        if self.stripes is not None:
            text = only_listed(text)
        said = _plainly(
            text, (sizes or self.sizes) if self.sign else 0, self.sign, self.pins, self.points
        )
        if self.bare_counts and sizes <= 1:
            said = said.sub(_BARE_COUNT, r"\g<b> (\g<n> sts)")
        if self.blocks:
            said = with_blocks(said, self.blocks)
        for name, words in self.called.items():
            said = said.sub(
                re.compile(rf"(?<![a-z\"]){re.escape(name)}(?![a-z\"])", re.IGNORECASE), words
            )
        if self.panel and "panel" in said.text:
            said = said.sub(_PANEL_WORKED, rf"k{self.panel}")
        if self.decimal_comma:
            said = said.sub(_COMMA, ".")
        said = with_sequences(said, self.stripes)
        numbered = with_needles(said, self.needles)
        if numbered is not said:
            numbered = spelt_out(numbered)  # "knit across A once more" holds our words only now
        return with_markers(numbered, self.markers)

    def tells_panel(self, text: str) -> bool:
        """Tell whether a line only tells what a panel is that is worked by its name later."""
        match = _PANEL_ROW.match(text)
        return match is not None and match["name"].lower() in self.told_once

    def is_for_the_other(self, text: str, titles: Callable[[], str]) -> bool:
        """Tell whether a line is for the other of a pair: the one named first is followed."""
        match = _HAND.match(text)
        if match is None:
            return False
        side = match["side"].lower()
        if not self.one_of_pair:
            named = re.findall(r"\b(left|right|first|second)\b", titles())
            self.one_of_pair = named[0] if named else side
        return side != self.one_of_pair


def habits_of(text: str) -> Habits:
    """Return what can be known of a writer from the whole text."""
    called = {
        match["name"].rstrip(",.").strip(): match["means"]
        for match in _QUOTED.finditer(text[:20_000].replace("“", '"').replace("”", '"'))
        if not _A_STITCH.fullmatch(match["name"])
    }
    called |= {  # "lift": the gap behind a turn is closed by the bar that lies in it
        match["name"]: "k1 with wraps"
        for match in _BAR_IN_GAP.finditer(text[:20_000].replace("“", '"').replace("”", '"'))
    }
    called |= {
        match["name"] or match["name2"]: (match["means"] or match["means2"]).lower()
        for match in _SHORT_FOR_YARN.finditer(text[:20_000])
    }
    called |= _waste_called(text[:20_000])
    comma = _DECIMAL_COMMA.search(text[:20_000]) is not None
    if pins := says_pins(text[:20_000]):
        text = PIN.sub(as_needle, text)
    habits = Habits(marker_names(text), needle_names(text), called, comma, panel=panel_width(text))
    habits.pins = pins
    habits.stripes = stripe_sequence(text)
    habits.small = _is_small(text)
    habits.bare_counts = (
        _CAST_ON_PLAIN.search(text[:20_000]) is not None and _SIZED.search(text[:20_000]) is None
    )
    habits.points, habits.blocks = has_points(text[:20_000]), blocks_of(text[:20_000])
    if (cast_on := _CAST_ON_BY_SIGN.search(text[:20_000])) is not None:
        habits.sign = cast_on["sign"]
        habits.sizes = 1 + cast_on[0].count(habits.sign)
    elif (sizes := _sizes_in_brackets(text[:20_000])) > 1:
        habits.sign, habits.sizes = _another_sign(text[:20_000], sizes), sizes
    for name, row in _panels(text[:20_000]).items():
        habits.told_once |= {name}
        habits.called |= {f"work {name}": row, f"work the {name}": row, f"working {name}": row}
    return habits


_CAST_ON_PLAIN = WordForm(r"\b(?:cast on|co) (?:\w+ ){0,3}?\d+\b(?! ?[(\[/:-] ?\d)")
_SIZED = WordForm(  # what tells that there are sizes
    r"\b(?:cast on|co) (?:\w+ ){0,3}?\d+ ?[(\[/:-] ?\d|[(\[]\d+(?:, ?| ?[/:] ?)\d+|\d ?[(\[]\d+[)\]](?:,| (?:sts?|stitches|times|rounds|rnds|rows|cm|in(?:ches)?|[a-z]+ sts)\b)|(?m:^)\W*sizes\b|(?m:^)\W*size\b[^\n]*[(\[,/]|\b(?:small|medium|child\w*|wom[ae]n\w*|adult\w*|lad(?:y|ies)|toddler|baby|S|M) ?[(\[/]|\bfor the (?:larger|smaller|second|other) size"
)
_BARE_COUNT = WordForm(
    r"(?P<b>(?:\b(?:[kp] ?\d+|(?:knit|purl) ?\d*|k\d?tog|p\d?tog|tog|together|ssk|skpo?|psso|yo|m1\w?|kfb|end|around|turn|rounds?|rows?|st|stitch|sts|plain|more|times|twice)|[*)\]])[.,]?) \((?P<n>\d{1,3})\)(?=\.?\s*$|\. )"
)
_SHORT_FOR_YARN = WordForm(  # "WY = waste yarn", "WY: waste yarn"
    r"\b(?P<name>[A-Z]{2,3}) ?[=:,(–—-] ?(?:is |for )?(?P<means>(?i:waste|scrap) (?i:yarn|wool|thread|cotton))\b"
    r"|\b(?P<means2>(?i:waste|scrap) (?i:yarn|wool|thread|cotton)) ?\((?P<name2>[A-Z]{2,3})\)",
    re.NOFLAG,
)


_KNIT_ON = WordForm(  # "with a piece of string or slick yarn, k18": and the string is pulled out later
    r"\b(?:with|using|in|on|onto|on to) (?P<all>(?:(?:a|the|some|your|this) )?(?:[a-z]+ ){0,2}(?:(?:piece|length|bit|strand|end) of )?(?:[a-z]+ ){0,2}?(?P<name>string|cotton|thread|cord|floss|twine|ribbon)(?: or [a-z]+ (?:yarn|wool|thread|cotton|string))?),? (?:and )?(?:k|knit|work)(?: ?\d| the| across)",
)


def _waste_called(text: str) -> dict[str, str]:
    """Return what a text calls its waste yarn, which is knitted with and pulled out later."""
    for match in _KNIT_ON.finditer(text):
        name = match["name"]
        pulled = rf"\b(?:pull|draw|take|pick|ease|rip|get|unpick|remove|undo|unravel|snip)(?:ing)?(?: out)? (?:the|this|that) (?:[a-z]+ )?{name}\b"
        if re.search(pulled, text[match.end() :], re.IGNORECASE):
            return {match["all"]: "waste yarn", f"the {name}": "the waste yarn"}
    return {}


_PANEL_ROW = re.compile(  # "Rib panel for N1: K2, p2, [k3, p2] 4 times, k2."
    r"^[ \t]*(?P<name>[a-z]+(?: [a-z]+)? (?:panel|pattern|band|strip|motif))(?:,? (?:for|on|over|across) [^:\n]{1,30}| ?\([^):\n]{1,30}\))*: "
    r"(?P<row>(?:[kp] ?\d|[\[(*]|sl|yo|ssk|k2tog)(?!.*(?:\br(?:ow|nd|ound)s?\b|: ))[^\n]*?)\.?[ \t]*$",
    re.IGNORECASE | re.MULTILINE,
)


def _panels(text: str) -> dict[str, str]:
    """Return stitches that are told once by a name and worked by it later: "work rib panel"."""
    found = {match["name"].lower(): match["row"] for match in _PANEL_ROW.finditer(text)}
    return {
        name: f"{row[:1].lower()}{row[1:]}"
        for name, row in found.items()
        if re.search(rf"\bwork(?:ing)? (?:the )?{re.escape(name)}\b", text, re.IGNORECASE)
    }


_DECIMAL_COMMA = WordForm(r"\b\d,\d{1,2} ?mm\b", re.NOFLAG)


_SMALL = WordForm(  # "cast on 96 sts. place marker and join."
    r"(?P<before>[\w\"')\]*]+[.!] )(?P<first>[a-z])"
    r"(?P<order>(?=\w* (?:the|to|a|an|on|in|all|off|up|it|is|are|and|with|as|every|each|marker|yarn|sts|ends|\d)|\d|oin\b|urn\b|nit\b|url\b|raft\b))?",
    re.NOFLAG,
)
_SHORT = WordForm(
    r"\b(?:approx|g|e|etc|no|vs|incl|beg|rep|foll|rem|alt|cont|tog|patt|dec|inc|in|cm|mm|oz|yds|sts?|rnds?|opp|sl|col|pat|ins)\. $",
    re.NOFLAG,
)


def _is_small(text: str) -> bool:
    """Tell whether a writer begins most lines in small letters."""
    firsts = [line.strip()[0] for line in text.split("\n") if line.strip()[:1].isalpha()]
    return len(firsts) > 5 and 2 * sum(first.islower() for first in firsts) > len(firsts)


def _capital(match: re.Match[str]) -> str:
    if _SHORT.search(match["before"]) and match["order"] is None:
        return match[0]
    return match["before"] + match["first"].upper()


_CAST_ON_BY_SIGN = WordForm(  # "cast on 48 / 64 sts"
    r"\b(?:cast on|co) (?:\w+ ){0,2}?\d+ ?(?P<sign>[/:]) ?\d+(?: ?(?P=sign) ?\d+)*(?: (?:sts?|stitches)\b|(?=[.,;]|$))",
)


_CAST_ON_IN_BRACKETS = WordForm(  # "cast on 56 (64, 72) sts"
    r"\b(?:cast on|co) (?:\w+ ){0,2}?\d+ ?[(\[](?P<more>\d+(?: ?, ?\d+)*)[)\]]"
)
_ELSEWHERE = WordForm(  # "28-32-36 sts", "k16/18/20", where others stand in brackets
    r"(?<![\d/–-])(?<!size )(?<!sizes )(?P<worked>(?:\b[kp]|\b(?:knit|purl|work|first|last|next|until|other|over) ))?(?P<all>\d+(?P<sign>[/-])\d+(?:(?P=sign)\d+)*)(?![\d/–-])(?P<counted> (?:sts?|stitch(?:es)?|rows|rnds|rounds|times)\b)?",
)


def _sizes_in_brackets(text: str) -> int:
    cast_on = _CAST_ON_IN_BRACKETS.search(text)
    return 2 + cast_on["more"].count(",") if cast_on else 1


def _another_sign(text: str, sizes: int) -> str:
    """Return what stands between the numbers of sizes where it is not brackets; "" for nothing.

    Two numbers with a dash are a range, and may be one with a stroke: three tell of sizes.
    """
    for found in _ELSEWHERE.finditer(text):
        numbers = [int(one) for one in re.split("[/-]", found["all"])]
        grows = numbers == sorted(numbers) and numbers[0] < numbers[-1]
        if len(numbers) == sizes > 2 and grows and (found["worked"] or found["counted"]):
            return found["sign"]
    return ""


_PANEL_WIDTH = WordForm(
    r"\bpanel\b[ (,:]*(?:worked |is )?(?:over|across|on)? ?(?:the )?(?:next )?\(?(?P<n>\d{1,3}) (?:sts|stitches)\b",
)
_PANEL_WORKED = WordForm(
    r"\b(?:work|patt|k|knit)(?: across)? (?:(?:the|lace|cable|next|centre|center)\s+)*panel(?: sts| stitches)?(?: (?:as (?:set|est\w*|before)|in patt\w*))?(?=[,;.]|$)",
)


def panel_width(text: str) -> str:
    """Return how many stitches the one panel of a text takes; "" where that is not clear.

    Examples
    --------
    >>> panel_width("LACE PANEL (over 13 sts)"), panel_width("K2, work panel, k2.")
    ('13', '')
    """
    found = {match["n"] for match in _PANEL_WIDTH.finditer(text[:200_000])}
    return found.pop() if len(found) == 1 else ""
