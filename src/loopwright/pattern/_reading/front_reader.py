# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""Gather what stands before and between instructions: title, sizes, gauge, headings, words."""

from __future__ import annotations

import contextlib
import re

import attrs

from loopwright.errors import PatternSyntaxError, SizeError, StepError
from loopwright.fabric.stitches import StitchTable
from loopwright.making import Hand
from loopwright.pattern import steps as st
from loopwright.pattern._cables import called_in, explained, with_defined
from loopwright.pattern._contents import entries_in, steps_in, things_in
from loopwright.pattern._grammar.sentences import Sentence, sentence_in
from loopwright.pattern._noted import with_numbers
from loopwright.pattern._reading.alternate import says_others_plain
from loopwright.pattern._reading.casting_on import GIVEN, WOUND
from loopwright.pattern._reading.front import (
    TEXT_SECTIONS,
    casts_on,
    definition,
    fitted_in,
    gauge_by_the_way,
    gauge_in,
    gauge_of_stitches,
    head_in,
    heading_in,
    is_abbreviation_list,
    is_row,
    sign_between,
    signed,
    sizes_in,
    sizes_told,
)
from loopwright.pattern._reading.labels import label_of, named_in
from loopwright.pattern._reading.lines import Line, sentences_in
from loopwright.pattern._reading.meaning import say
from loopwright.pattern._reading.piece_aside import is_taken_up, piece_brought
from loopwright.pattern._reading.rule_table import expression
from loopwright.pattern._reading.scribe import Lost, Scribe
from loopwright.pattern._reading.stated import count_in, stated_in
from loopwright.pattern._reading.titles import is_title
from loopwright.pattern._reading.told_crossings import (
    crossings_told,
    tells_of_cable,
    with_named,
)
from loopwright.pattern._rewording.habits import habits_of, is_size_label, only_sizes
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern.items import Run
from loopwright.pattern.program import GaugeLine, Pattern
from loopwright.pattern.values import UntilMeasures

__all__ = ["FrontReader"]

_GIVEN, _WOUND = expression(GIVEN), expression(rf"(?:{WOUND})(?:\d.*)?")
_KEPT_HEADS = WordForm("notes?|caution|about|about this pattern|tips?|answers?", re.NOFLAG)
_FOR = WordForm(r"(?:to fit|fits|for|in|available in)? ?sizes? (?=\S)")
_LEADS_TO_ROWS = WordForm(  # "The wave takes 18 sts and 4 rounds:", and its rounds below
    r"(?!.*\b(?:work|knit|leave|hold|slip|place|last|first|turn|join|heel|flap)\b)"
    r"[^:;]*(?:\d (?:sts|stitches),? ?(?:and|by|x|×|,)? ?\d+ (?:rounds|rnds|rows)\b|\b(?:takes|over|of) \d+ (?:sts|stitches)\b)[^:;]*:$",
)
_PATTERN_OVER = WordForm(  # "Bird pattern, over 6 sts", "Stitch Pattern: Sluice Rib (multiple of 4 sts)"
    r"(?:(?:stitch pattern|pattern stitch|pattern)[:,–-] )?(?P<name>[a-z][a-z' -]{2,40}?)"
    r"(?:, |:? ?\(| )(?:an? |worked |any |over )*(?:(?:multiples? of|mult\.? of|repeats? of|over(?: an?)?(?: multiple of)?) \d+(?: (?:sts|stitches))?|(?:even|odd) (?:number|no\.?) of (?:sts|stitches))"
    r"(?:,? (?:\+|plus|and|x|by) \d+(?: (?:sts|stitches|rounds|rnds|rows))?)?\)?[.:]?$",
)
_PATTERN_TITLED = WordForm(
    r"(?:stitch pattern|pattern stitch)[:,–-] (?P<name>[a-z][a-z' -]{2,40}?)[.:]?$"
)
_BARE_ROW = WordForm(  # "*k1, p1; rep from *", "Repeat this rnd: *k1, p1*"
    r"(?:rep(?:eat)? (?:this|every|the same) (?:rnd|round|row): )?(?P<row>[*(\[] ?(?:[kp] ?\d|[kp]\b|sl\b|yo\b|ssk\b).*?)(?:,? (?:on |in )?every (?:rnd|round|row))?[.]?$"
)
_ROW_AGAIN = WordForm(  # "Rep this rnd.", "Repeat rnd 1 for pattern."
    r"(?:rep(?:eat)?|work) (?:this|these|the|rnds?|rounds?|rows?|last|same)\b[^.;:*]*?(?:rnds?|rounds?|rows?|\d)(?: (?:throughout|for (?:the )?patt(?:ern)?))?[.]?$"
)
_MEASURE = WordForm(  # "Leg length, cast on to top of flap: 7 (7, 7.5) inches"
    rf"[A-Z][a-z]+ (?:length|width|height|depth)\b[^:;.*\d]*: (?:about )?{COUNT} ?(?:cm|mm|inch(?:es)?|ins?\b\.?|\")\.?",
)
_SHORT = WordForm(r"[A-Za-z][A-Za-z0-9]{1,5}", re.NOFLAG)
_TO_FIT = WordForm(  # "to fit foot: small (large)", "for a child of 2-3 (4-6) years"
    r"(?:(?:to fit|fits|made to fit)\b:?(?: (?:an? |the )?(?:(?:adult|child|wom[ae]n|m[ae]n|bab[yie]+)(?:[’']?s)?[’']? )?(?:foot|feet|hands?|heads?)(?: sizes?)?:)?|(?:for )?ages?\b:?"
    r"|for (?:an? )?(?:child(?:ren)?|bab(?:y|ies)|kids?|toddlers?|boys?|girls?)(?: or girl)?(?:,? (?:of|from|aged?))+) (?P<rest>.*)$",
)
_BOBBLE = WordForm(r"(?:make |work )?(?:a )?bobble")
_BEGINS = WordForm(r"(?:(?:using|with) [^.]{1,40}?,? )?(?:loosely )?(?:cast on|co) \d+")
_WRAPS = WordForm(  # a closed cast-on that is told by what the hands do
    r"(?:(?:step )?\d{1,2}[.):] )?(?:wind|wrap) (?:the )?(?:yarn|wool|working yarn) (?:a)?round (?:both|the two|the) needles (?:\d+ times|until)",
)
_HAS = WordForm(  # what is on the needle already, or comes on to it in a way that has no name
    rf"(?:(?:step )?\d{{1,2}}[.):] )?(?:(?:begin|start)(?:ning|ing)? (?:with|from)|you (?:have|will have|should have|need)|there are)[^.;:\d]*? (?P<n>{COUNT}) (?:live |open |held |new )*(?:sts|stitches|loops)\b(?! ?(?:to|=|per|over|in|less|fewer|more|inc\w*|dec\w*)\b)",
)
_BROUGHT = WordForm(  # "bring: last week's heel on its holder (14 sts, …)"
    rf"\b(?P<name>heel|flap)\b[^.;()\d\n]{{0,40}}\bon (?:its|the|a|your) (?:own )?(?:stitch )?(?:holder|needle|thread|pin)\b[^.;()\d\n]{{0,24}}\(?(?P<n>{COUNT}) (?:sts|stitches)\b",
)
_CASTS_ON_UNDER = WordForm(  # "Baby sock: cast on 36 sts, 12 per needle": a name, and no meaning of it
    r"(?P<title>(?![^:]*\b(?i:cast|bind|picot|button\w*|edge cast|loop|method|abbrev\w*|option\w*|variation|example|notes?|tip)\b)[A-Z][^.:;=*]{1,60}): "
    r"(?=(?i:(?:(?:using|with|in|on) [^:;]{1,50}?,? )?(?:loosely )?(?:(?:cast(?:ing)? on|co) (?:\w+ )?\d+|(?:make|set up|put) \d+ (?:loops|sts|stitches)\b)))",
    re.NOFLAG,
)
_SIZES_FIRST = WordForm(  # "Sizes S (M, L). With MC cast on 84 (90, 96) sts"
    r"(?P<head>(?:in )?sizes?:? [^.;*]{1,60}|[a-z][a-z -]{1,15} ?[(\[][a-z, -]{1,40}[)\]])[.;] (?=(?:(?:with|using|in|on) [^.:;]{1,40}?,? )?(?:cast on|co) \d)",
)
_THEN_CASTS_ON = WordForm(r"(?-i:[.;] )(?:(?:with|using|in|on) [^.:;]{1,40}?,? )?(?:cast on|co) \d")  # fmt: skip
_RUN_IN = WordForm(  # "Foot: Knit all 44 sts …": a heading on the line of its first sentence
    r"(?P<the>THE (?:CUFF|LEG|FOOT|HEEL|HEEL FLAP|FLAP|INSTEP|GUSSETS?|TOE|THUMB|BRIM|CROWN|HAND|TOP|WRIST|FINGERS?)): (?=[A-Z\d*(\[])"
    r"|(?P<said>The (?:top|cuff|leg|foot|heel|heel flap|flap|instep|gussets?|toe|thumb|brim|band|crown|hand|wrist|stripes))\. (?=[A-Z\d*(\[])"
    r"|(?P<title>CUFF|LEG|FOOT|HEEL|HEEL FLAP|HEEL TURN|TURN HEEL|TURN THE HEEL|GUSSET|TOE|BRIM|CROWN|BODY|HAND|TOP|THUMB|BORDER|EDGING|FINISHING"
    r"|Cuff|Leg|Foot|Toe|Heel flap|Heel turn|Gusset|Brim|Crown|Body|Hand|Top|Thumb|Finishing|Heel(?=: The ))(?:: |\.? [–—] )(?=[A-Z][a-z]+ \S)",
    re.NOFLAG,
)
_SIZES = WordForm(r"sizes?\s+(?P<names>[^.;=]{3,60})$")
_SIZES_TOLD = WordForm(  # "…, so they are quick. Sizes are M/L; where you see one figure, …"
    r"(?<!needles )(?<!needles, )(?<!dpns )(?:\b(?:the )?sizes (?:are|run)|\b(?:in|for) (?:the )?sizes|\b(?:two|three|four|five|six|\d) sizes(?: to choose from)?:|\bsizes:|\b(?:numbers|figures|directions|instructions|counts|stitch counts) are (?:(?:given|written|shown) )?(?:as|like|for|in the order|thus:?)(?: (?:the )?sizes?)?(?= [A-Za-z])) (?P<names>[^.;:]{2,60})",
)
_SEVERAL = WordForm(r";|\.\s+[\w&]+:", re.NOFLAG)  # abbreviations on one line
_NEXT_EQUALS = r",\s*(?=[^\s,=]+(?: [^\s,=]+)?\s*=)"  # "k = knit, p = purl"
_EXPLAINED = WordForm(  # "kfb = knit into front and back; ssk = slip 2 sts, knit them together"
    r"(?:[a-z]\w{0,7}(?:, [a-z]\w{0,7})* ?= ?[^;=]+; ?)+[a-z]\w{0,7}(?:, [a-z]\w{0,7})* ?= ?[^;=]+",
)
_ABBREVIATIONS = WordForm(  # "Words used: yo = …": with a sign, since "words" may head anything
    r"abbreviations?\s*(?:used)?\s*:\s*\S"
    r"|(?:(?:short|special|knitting|the) )*(?:words|terms|shorthand|short forms|what the (?:words|letters) mean)(?: (?:used|we use|you need|in this pattern|explained))*:[^:=]{1,20}=",
)
_WRAP_TURN = WordForm(r"w ?(?:&|\+|and) ?t|wrap (?:and|&) turn")
_MEANS = WordForm(  # "w&t means wrap and turn: slip …", "To wrap and turn: slip …"
    r"^(?:by |to )?(wrap (?:and|&) turn|[a-z0-9&]{2,6})(?: \(\S{2,6}\))?(?: (?:i mean|means?|stands for|is short for|is)(?: to)?| ?[:=]) (?:[a-z0-9&, ]{2,24}: )?(?=[a-z])",
)
_BY_HAND = WordForm(  # how the hands make one stitch: no list of stitches, nothing that goes on
    r"(?:slip|sl|lift|knit|k|k2tog|purl|p2tog|insert|with|pick up|pass|work|wrap|bring|make|yarn|take|put|slide|skip)\b(?! ?\d+,(?![^*.]*\b(?:pass\b[^*.]* over|psso)\b))"
    r"(?![^*]*\b(?:to (?:the )?end|rep(?:eat)?|round|rnd|row|\d+ sts$)\b)[^*]*$",
)


class FrontReader:
    """Gathers what a text says about the work, line by line."""

    def __init__(self, text: str, table: StitchTable, scribe: Scribe) -> None:
        self.table, self.scribe = table, scribe
        self.casts_on_later, self.habits = casts_on(text), habits_of(text)
        self.title = ""
        self.brought = next((m for m in _BROUGHT.finditer(text) if is_taken_up(m)), None)
        self.sizes: tuple[str, ...] = ()
        self.gauge: GaugeLine | None = None
        self.rowless: tuple[GaugeLine, str] | None = None  # of stitches alone, and how it is kept
        self.hand: Hand | None = None
        self.materials: list[str] = []
        self.abbreviations: list[tuple[str, str]] = []
        self.begun = False  # a line was read
        self.run_in = 0  # how much of the line is a heading before its first sentence
        self._works = False  # an instruction was
        self.text_section = ""  # a heading whose lines are kept as text
        self.pattern_name = ""  # a stitch pattern that is written out before the work begins
        for one in (one for line in text.split("\n") for one in crossings_told(line)):
            if one.is_apart:  # rows above what explains a name mean the same by it
                self._known(one.name, one.told)

    def is_working(self) -> bool:
        """Tell whether an instruction was read."""
        if not self._works:
            entries = self.scribe.assembler.entries
            self._works = any(not isinstance(e.step, st.Note | st.Section) for e in entries)
        return self._works

    def take(self, line: Line, tidy: MappedText) -> str:
        """Take a line that is no instruction and return as what; "" for one that is."""
        text, first = line.text, not self.begun
        self.begun, self.run_in = True, 0
        if (lead := _RUN_IN.match(tidy.text)) and self._begins_work(tidy.text, lead.end()):
            self._heading(lead["the"] or lead["said"] or lead["title"], line, text)
            self.run_in = lead.end()
            return ""
        if text.startswith("#"):
            return self._marked_heading(line)
        if not self.is_working() and self._sizes_before_cast_on(tidy.text):
            return ""
        if head := head_in(tidy.text):
            if self.brought and not self.is_working() and _BROUGHT.search(tidy.text):
                self.scribe.stand_at(line, 0)
                self.scribe.give(piece_brought(self.brought))
            return self._head(head[0], head[1], line)
        if _ABBREVIATIONS.match(text):
            return self._abbreviations(re.sub(r"^[^:]*:\s*", "", text))
        listed = is_abbreviation_list(text) and ("=" in text or not self._has_work())
        if listed or _EXPLAINED.fullmatch(text):
            return self._abbreviations(signed(text))
        if not self.sizes and not self.is_working() and (named := _SIZES.match(text)):
            names = sizes_in(named["names"])
            if len(names) > 1:
                self._name_sizes(names)
                self.habits.sign = sign_between(named["names"], len(names)) or self.habits.sign
                return "head"
        if self.is_working() and is_size_label(text, self.sizes):
            return ""
        title = heading_in(line)
        if first and title is None and is_title(text, self.table):
            self.title = " ".join(text.split())
            return "title"
        if title is not None:
            if (first and not text.isupper()) or (first and is_title(text, self.table)):
                self.title = " ".join(text.split())
                return "title"
            return self._heading(title, line, text)
        if self._told_bobble(tidy.text) or self.habits.tells_panel(text):
            self.scribe.place = line.place(0)
            self.scribe.note(tidy.text)
            return "definition"
        if not self.is_working() and (found := self._before_the_work(line, tidy)):
            return found
        if self.is_working() and (told := self._stitches_explained(tidy.text)):
            for short, long in told:
                if self._is_stitch(short):
                    self._defined(short, long)
            return "definition"
        if _BEGINS.match(tidy.text) and not self.text_section.startswith("note"):
            self.text_section = ""  # the work begins, whatever the heading was
        if self.text_section and not is_row(tidy.text):
            return self._kept(line, tidy)
        return ""

    def _sizes_before_cast_on(self, text: str) -> bool:
        """Take the sizes that the line which casts on begins with."""
        if self.text_section or (first := _SIZES_FIRST.match(text)) is None:
            return False
        said = re.sub(r"^(?:in )?sizes?:? ", "", first["head"], flags=re.IGNORECASE)
        names = sizes_in(said, sure=True)
        if len(names) < 2:
            return False
        if not self.sizes:
            self._name_sizes(names)
            self.habits.sign = sign_between(said, len(names)) or self.habits.sign
        self.run_in = first.end()
        return True

    def _begins_work(self, text: str, at: int) -> bool:
        return self.is_working() or _BEGINS.match(text, at) is not None

    def _marked_heading(self, line: Line) -> str:
        title = " ".join(line.text.lstrip("#").split())
        if not title:
            at = line.place(0)
            wanted = ("a heading such as ## Leg",)
            raise PatternSyntaxError(
                at.line, at.column, "a heading without words", wanted, line.text
            )
        if line.text.startswith("##"):
            self.scribe.stand_at(line, 0)
            self._begin_section(title)
            self.pattern_name = ""
            return "heading"
        self.title = title
        return "title"

    def _begin_section(self, title: str) -> None:
        self.text_section = self.pattern_name = ""
        low = re.sub(r"^[a-z][.)]\s+|^\[\w+\]\s+|^part \w+\s*[-:–—]\s*", "", title.lower())
        bare = re.sub(r"\s*[(\[].*$", "", low).strip(" :-")
        if bare in TEXT_SECTIONS or bare.startswith("questions"):
            self.text_section = bare
        elif (
            self.casts_on_later
            and not self.is_working()
            and not re.match(r"cuff|toe|brim|leg|body|cast|begin|start", bare)
        ):
            self.pattern_name = bare
        self.scribe.heading(title)
        says_others_plain(self.scribe, title)

    def _heading(self, title: str, line: Line, text: str) -> str:
        self.scribe.stand_at(line, 0)
        self._begin_section(title)
        return "heading"

    # heads and what is kept as text

    def _head(self, head: str, rest: str, line: Line) -> str:
        self.scribe.stand_at(line, 0)
        if not rest:
            self._begin_section(head.capitalize())
            self.text_section = head
            return "heading"
        if _KEPT_HEADS.fullmatch(head):
            self.scribe.assembler.add_plain(st.Note(rest, head == "caution", at=line.place(0)))
            return "text"
        if head == "title":
            self.title = rest
            return "title"
        if head == "hand" and rest.rstrip(".").lower() in ("left", "right"):
            self.hand = Hand.LEFT if rest.lower().startswith("l") else Hand.RIGHT
            return "head"
        if head in ("size", "sizes", "sizing") and (names := sizes_in(rest)):
            self._name_sizes(names)
            self.habits.sign = sign_between(rest, len(names)) or self.habits.sign
            if re.fullmatch(r"[^()\[\]]*[(\[][^()\[\]]*[)\]]\.?|[\w /.'’-]+", rest):
                return "head"
        elif head in ("to fit", "fits") and not self.sizes:
            self._fitted(rest)
        elif head in ("gauge", "tension", "tension/gauge", "gauge/tension"):
            self.scribe.live.gauge = self.gauge = gauge_in(rest) or self.gauge
            if self.gauge is not None and gauge_in(rest) is not None:
                return "head"
            if self.rowless is None and (gauge := gauge_of_stitches(rest)) is not None:
                self.rowless = gauge, f"{head.capitalize()}: {rest}"
        elif self.rowless is None and (gauge := gauge_by_the_way(rest)) is not None:
            self.rowless = gauge, ""
        self._keep(f"{head.capitalize()}: {rest}" if head != "materials" else rest)
        return "head"

    def _keep(self, text: str) -> None:
        self.materials.append(" ".join(text.split()))

    def _name_sizes(self, names: tuple[str, ...]) -> None:
        self.sizes = names
        self.scribe.live.names = names if len(names) > 1 else ()

    def number_sizes(self, many: int) -> None:
        """Call sizes by their numbers, where the text has no names for them."""
        if not self.sizes and many > 1:
            self._name_sizes(tuple(str(number) for number in range(1, many + 1)))

    def _fitted(self, text: str) -> bool:
        names = () if self.is_working() else fitted_in(text)
        if len(names) < 2:
            return False
        self._name_sizes(names)
        self.habits.sign = sign_between(text, len(names)) or self.habits.sign
        return True

    def _has_work(self) -> bool:
        """Tell whether there are stitches in work: not before the first, not when all are off."""
        return self.is_working() and any(one.count for one in self.scribe.now().tallies)

    def _abbreviations(self, rest: str) -> str:
        between = r"\s*;\s*|\.\s+(?=[\w&]+:)" if ";" in rest or ":" in rest else _NEXT_EQUALS
        for entry in re.split(between, rest.strip(" .")):
            bare = re.sub(r"\([^()]*\)", "", entry)
            signs = (sign for sign in "=:," if sign in bare)
            short, sign, long = entry.partition(next(signs, "="))
            if sign and short.strip() and long.strip():
                self._defined(short.strip(), long.strip())
        return "definition"

    def _defined(self, short: str, long: str) -> None:
        pair = (" ".join(short.split()), " ".join(long.split()).replace(";", ",").rstrip("."))
        if "=" not in pair[0] and pair[0] not in dict(self.abbreviations):
            self.abbreviations.append(pair)
        self._known(short, long)

    def _known(self, short: str, long: str) -> None:
        """Take what a text calls a stitch of its own, where it can be followed."""
        row = explained(short, long)
        if row is not None:
            self.table = with_defined(self.table, ((short, long),))
            self.scribe.define(short, called_in(self.table, row) or row.key, self.table)

    def _before_the_work(self, line: Line, tidy: MappedText) -> str:
        """Take a line that stands before anything is cast on; "" if it is an instruction."""
        self.scribe.stand_at(line, 0)
        text = tidy.text
        if not self.sizes and (names := sizes_told(text)):
            self._name_sizes(names)
        only = only_sizes(text, 0, self.sizes)
        if _MEASURE.fullmatch(text):
            self._keep(text)
            return "head"
        if self.text_section.startswith("abbreviations") and _SEVERAL.search(text):
            return self._abbreviations(text)
        if not self.text_section and (lead := _CASTS_ON_UNDER.match(text)):
            self._heading(lead["title"], line, text)
            self.run_in = lead.end()
            return ""
        if self.casts_on_later and (kind := self._of_pattern(line, tidy)):
            return kind
        if (told := definition(text)) is not None and self._is_stitch(told[0]):
            self._defined(*told)  # "kfb: knit into the front of the stitch, leave it on …"
            return "definition"
        if not self.text_section and (only or (label_of(text) is None and self._parses_all(text))):
            return ""
        if (
            not self.sizes
            and (names := sizes_in(_FOR.sub("", text), sure=self._says_sizes(text)))
            and len(names) > 1
        ):
            self._name_sizes(names)
            self.habits.sign = sign_between(_FOR.sub("", text), len(names)) or self.habits.sign
            rest = re.sub(r"^[^)\]]*[)\]]\s*", "", text)
            if rest:
                self._keep(text)
            return "head"
        for told_sizes in _SIZES_TOLD.finditer(text) if not self.sizes else ():
            names = sizes_in(told_sizes["names"], sure=False)
            if len(names) > 1:
                self._name_sizes(names)
                break
        if not self.sizes and (fit := _TO_FIT.match(text)) and self._fitted(fit["rest"]):
            self._keep(text)
            return "head"
        if not self.text_section and self.casts_on_later and (name := named_in(text)):
            return self._pattern_in_line(name, line, tidy)
        if self.gauge is None and (gauge := gauge_in(text)):
            self.scribe.live.gauge = self.gauge = gauge
            return "head"
        if _GIVEN.match(text) and not self.text_section:
            return ""
        label = label_of(text)
        if re.match(r"\w+: (?:cast on|co) \d", text, re.IGNORECASE) and not self.text_section:
            return ""
        if label is None and not _THEN_CASTS_ON.search(text) and (found := definition(text)):
            self._defined(*found)
            return "definition"
        if label is not None and self.pattern_name:
            return self._pattern_row(line, tidy)
        if re.search(
            r"\b(?:cast(?:ing)? on|co)\b\s+(?:\d|only)|\b(?:cast on|co)\b[^.]*\d",
            text,
            re.IGNORECASE,
        ) and not self.text_section.startswith("note"):
            return ""
        if label is not None:
            return ""
        if not self.casts_on_later and not self.text_section:
            if _WRAPS.match(text) or _WOUND.match(text):
                return ""
            if (begun := _HAS.match(text)) is not None:  # nothing else begins the piece
                self.scribe.give([st.CastOn(count_in(begun["n"]))])
                return ""
        if self.rowless is None and (gauge := gauge_by_the_way(text)) is not None:
            self.rowless = gauge, ""
        if self.casts_on_later and not self.text_section and _LEADS_TO_ROWS.match(text):
            self.pattern_name = text.lower().strip(" :")
        elif self.casts_on_later and not self.is_working() and (named := _PATTERN_OVER.match(text)):
            self.text_section, self.pattern_name = "", named["name"].lower().strip()
        self.scribe.note(text)
        return "text"

    def with_crossings(self, said: MappedText) -> MappedText:
        """Return a line with the crossings that it tells by what the hands do called by a name.

        Those that it only explains, of rows above or below, are taken out of it.
        """
        if not tells_of_cable(said.text):
            return said
        told = []
        for one in crossings_told(said.text):
            if one.is_apart:
                self._defined(one.name, one.told)
                told.append((one, ""))
                continue
            key = called_in(self.table, one.row)
            if key is None:
                key = f"cross{len(self.scribe.meanings) + 1}"
                self._defined(key, one.told)
            told.append((one, key))
        return with_named(said, told)

    def _told_bobble(self, text: str) -> bool:
        """Take "Bobble: (k1, yo, k1) into one stitch, turn …", told amid the work."""
        short, _, long = text.partition(":")
        if not _BOBBLE.fullmatch(short.strip()) or not re.search(r"\bturn\b", long):
            return False
        self._defined("bobble", f"bobble: {long.strip()}")
        if "bobble" not in self.table:
            return False
        for said in ("make a bobble", "make bobble", "work a bobble", "work bobble"):
            self.scribe.define(said, "bobble", self.table)
        return True

    def _is_stitch(self, short: str) -> bool:
        """Tell whether a word before a colon is a stitch that has a name: "kfb", "ssk"."""
        if not _SHORT.fullmatch(short):
            return False
        items = self.scribe.items(MappedText.of(short)) or ()
        return len(items) == 1 and isinstance(items[0], Run) and items[0].stitch not in ("k", "p")

    def _stitches_explained(self, text: str) -> list[tuple[str, str]]:
        """Return the stitches that a line behind the work explains; none if it does anything else."""
        found: list[tuple[str, str]] = []
        for _, sentence in sentences_in(text):
            if found and not stated_in(MappedText.of(sentence)).said.text.strip(" ."):
                continue  # "2 sts decreased", of the stitch
            told = definition(_MEANS.sub(r"\1: ", sentence))
            turns = told is not None and _WRAP_TURN.fullmatch(told[0])
            if (
                told is None
                or not _BY_HAND.match(told[1])
                or not (turns or self._is_stitch(told[0]))
            ):
                return []
            found.append(told)
        return found

    def _says_sizes(self, text: str) -> bool:
        return self.text_section in ("sizes", "size") or bool(_FOR.match(text))

    def _parses_all(self, text: str) -> bool:
        sentences = (sentence for _, sentence in sentences_in(text))
        return any(isinstance(sentence_in(one, self.table), Sentence) for one in sentences)

    def _pattern_row(self, line: Line, tidy: MappedText) -> str:
        """Keep a row of a stitch pattern: it is worked where the pattern is named."""
        scribe = self.scribe
        rows = scribe.context.patterns.setdefault(self.pattern_name, {})
        kept, before = list(scribe.assembler.entries), scribe.context.named.get("last")
        scribe.context.rows = rows
        with contextlib.suppress(Lost, PatternSyntaxError, StepError, SizeError):
            say(scribe, tidy)
        rows.update(scribe.context.rows)
        last = scribe.context.named.get("last")
        if not rows and last is not None and last is not before:
            rows[1] = last  # "Every rnd: *k1 tbl, p1*": it has no number
        scribe.assembler.entries[:] = kept
        scribe.claims.pop((scribe.place.line, scribe.place.column), None)
        scribe.assembler.last, scribe.assembler.kind = 0, None
        scribe.assembler.remarks.clear()
        scribe.note(tidy.text)
        return "definition"

    def _of_pattern(self, line: Line, tidy: MappedText) -> str:
        """Take the name of a stitch pattern, its one row without a label, or that it goes on."""
        text = tidy.text
        if (titled := _PATTERN_TITLED.match(text)) is not None:
            self.text_section, self.pattern_name = "", titled["name"].lower().strip()
            self.scribe.note(text)
            return "text"
        if not self.pattern_name:
            return ""
        if _ROW_AGAIN.match(text):
            self.scribe.note(text)
            return "text"
        if (row := _BARE_ROW.match(text)) is None:
            return ""
        course = "Row" if re.search(r"\b(?:rows?|across)\b", text, re.IGNORECASE) else "Rnd"
        bare = tidy.piece(row.start("row"), row.end("row"))
        return self._pattern_row(line, bare.put(0, 0, f"{course} 1: "))

    def _pattern_in_line(self, name: str, line: Line, tidy: MappedText) -> str:
        """Keep the rows of a stitch pattern that all stand on one line, behind its name."""
        self.pattern_name = name
        for offset, sentence in sentences_in(tidy.text):
            self.scribe.stand_at(line, offset)
            self._pattern_row(line, tidy.piece(offset, offset + len(sentence)))
        self.pattern_name = ""
        return "definition"

    def _kept(self, line: Line, tidy: MappedText) -> str:
        self.scribe.stand_at(line, 0)
        found = definition(tidy.text)
        if found is not None and self.text_section in TEXT_SECTIONS:
            self._defined(*found)
            return "definition"
        self.scribe.note(tidy.text)
        return "text"

    # the end

    def pattern(self, steps: tuple[st.Step, ...]) -> Pattern:
        """Return the pattern of these steps with what stands above them."""
        if self.gauge is None and self.rowless is not None and _measured(steps):
            steps = (self._with_rows(*self.rowless), *steps)
        pattern = Pattern(
            self.title, steps, sizes=self._sizes(steps), gauge=self.gauge,
            materials=tuple(self.materials),
            abbreviations=tuple(self.abbreviations),
            **({} if self.hand is None else {"hand": self.hand}),
        )  # fmt: skip
        if pattern.size_count > 1:
            noted = tuple(with_numbers(step, pattern.size_count) for step in pattern.steps)
            pattern = attrs.evolve(pattern, steps=noted)
        return pattern

    def _with_rows(self, gauge: GaugeLine, kept: str) -> st.Note:
        """Take the rows that the gauge leaves out from its stitches, and say so."""
        self.gauge = gauge
        if kept:
            self.materials.remove(" ".join(kept.split()))
        return st.Note(
            f"The gauge is stated in stitches only: {gauge.courses} rounds are taken for "
            f"{gauge.stitches} sts, 4 to 3, as plain fabric has them."
        )

    def _sizes(self, steps: tuple[st.Step, ...]) -> tuple[str, ...]:
        """Leave names out that can't be those of sizes: all numbers have other entries."""
        if len(self.sizes) < 2 or not self.scribe.loose:
            return self.sizes
        found = entries_in(steps)
        return self.sizes if not found or len(self.sizes) in found else ()


def _measured(steps: tuple[st.Step, ...]) -> bool:
    """Tell whether anything is worked for a length, which takes a gauge of rows to count."""
    within = (thing for step in steps_in(steps) for thing in things_in(step))
    lengths = (one for one in within if isinstance(one, UntilMeasures))
    return any(one.length is not None and one.since != "wanted" for one in lengths)
