# ruff: noqa: E501 - an expression stands on one line, long as it may be
"""What a sentence means where it stands: the row it labels, plain work, a repeat, its clauses."""

from __future__ import annotations

import re
from collections.abc import Sequence

import attrs

from loopwright.errors import PatternSyntaxError
from loopwright.pattern import steps as st
from loopwright.pattern._grammar.said import Again, Numbered
from loopwright.pattern._reading import (  # noqa: F401 - they enter the table
    as_before,
    casting_on,
    freed,
    heel_stitches,
    hung_marks,
    joined_by_one,
    named_patterns,
    neck,
    set_apart,
    taking_up,
    waiting,
)
from loopwright.pattern._reading.all_again import take_up_all
from loopwright.pattern._reading.alternate import from_row, says_others_plain, weave_in
from loopwright.pattern._reading.at_marks import told_at_marks
from loopwright.pattern._reading.back import gone_back, leave_unturned, stays_there
from loopwright.pattern._reading.bands import banded
from loopwright.pattern._reading.between_turns import starred_rows
from loopwright.pattern._reading.by_count import by_count, promises
from loopwright.pattern._reading.centre import with_centre
from loopwright.pattern._reading.changing import says_change
from loopwright.pattern._reading.clauses import (
    NEEDLE_TAG,
    again,
    clauses,
    groups,
    is_yarn,
    unlabelled,
    whole_clause,
)
from loopwright.pattern._reading.closing import live_count
from loopwright.pattern._reading.do_this import do_this
from loopwright.pattern._reading.filled_places import as_counted, until_all
from loopwright.pattern._reading.free_heel import heel_apart, on_one_needle
from loopwright.pattern._reading.free_rows import rows_in_any_order
from loopwright.pattern._reading.free_short_rows import as_one_round, round_again, short_rows_on
from loopwright.pattern._reading.given_held import given_to_wait
from loopwright.pattern._reading.gone_on import in_any_order, rows_in_this_way
from loopwright.pattern._reading.halves import on_halves
from loopwright.pattern._reading.in_yarn import yarn_then_work
from loopwright.pattern._reading.labelled import (
    as_set_up,
    between,
    ends_amid_heel,
    goes_round,
    labelled,
    labelled_rows,
    only_begins,
    shaped_evenly,
)
from loopwright.pattern._reading.labels import label_of
from loopwright.pattern._reading.of_each import of_each, tells_of_each
from loopwright.pattern._reading.over_all import over_all
from loopwright.pattern._reading.pattern_rows import arrange_sides, sides_told, with_pattern_rows
from loopwright.pattern._reading.picked_uncounted import picked_uncounted, picks_uncounted
from loopwright.pattern._reading.places import (
    names_place,
    past_marker,
    to_far_wrap,
    with_places,
)
from loopwright.pattern._reading.plain_work import plain_work
from loopwright.pattern._reading.repeats import repeated
from loopwright.pattern._reading.rows_on import rows_on
from loopwright.pattern._reading.schedules import scheduled
from loopwright.pattern._reading.scribe import Lost, Says, Scribe
from loopwright.pattern._reading.shares import shared_among
from loopwright.pattern._reading.star_blocks import said_by_count
from loopwright.pattern._reading.stated import (
    OF_THUMB,
    Stated,
    stated_in,
    without_asides,
    without_thumb,
)
from loopwright.pattern._reading.thirds import arrange_by_instep, without_sides
from loopwright.pattern._reading.thumb_place import to_thumb_place
from loopwright.pattern._reading.told_heel import (
    LEAVING,
    begin_heel,
    of_the_heel,
    over_so_many,
    part_of_heel,
    without_heel,
)
from loopwright.pattern._reading.told_needles import across_needles, arrange_as_before, with_needles
from loopwright.pattern._reading.told_sections import of_two_sections
from loopwright.pattern._reading.turned_repeats import turned_again, turned_on, with_last_rows
from loopwright.pattern._reading.turned_steps import last_parts_as_rows, with_parted_row
from loopwright.pattern._reading.waiting import give_with_count, state_count, tells_what_waits
from loopwright.pattern._reading.worked_through import rows_said, worked_through
from loopwright.pattern._rewording.harmless import (
    is_aside,
    is_instruction,
    tells_how,
    tells_of_shaping,
)
from loopwright.pattern._rewording.mapped import MappedText
from loopwright.pattern._rewording.triggers import WordForm
from loopwright.pattern._rewording.turned_places import with_turns
from loopwright.pattern._rewording.wordings import COUNT
from loopwright.pattern._rewording.yarn_names import with_yarns
from loopwright.pattern._words import NUMBER_WORDS
from loopwright.pattern.items import KNIT, On, Run, Stay, Turn, WrapTurn
from loopwright.pattern.values import Count, To, Where

__all__ = ["say"]

MAX_SENTENCE = 800  # characters; the set-up of a gusset, needle by needle, takes 400


def say(scribe: Scribe, said: MappedText) -> str:
    """Take one sentence; return how it was taken: as an instruction, a count or plain words.

    Raises
    ------
    Lost
        It seems to be an instruction, and means nothing here.
    """
    if tells_how(said.text):
        scribe.note(said.text)
        return "definition"
    if (rest := without_heel(scribe, said)) is not None:
        return say(scribe, rest)
    if (left := LEAVING.search(said.text)) is not None and scribe.now().in_rounds:
        kept, remarks = scribe.assembler.kept(), len(scribe.remarks)
        kind = say(scribe, said.piece(0, left.start()))
        if (waits := heel_apart(scribe, left[0].strip(" ,;"))) is not None:
            scribe.give(waits)
            return kind
        scribe.assembler.back_to(kept)
        del scribe.remarks[remarks:]
    kind = ""
    for one in told_at_marks(scribe, said):
        kind = say(scribe, one)
    if kind:
        scribe.loose = True
        return kind
    if (waits := given_to_wait(scribe, said)) is not None:
        scribe.loose = True
        scribe.give(waits)
        return "instruction"
    if _LAST_UNTURNED.match(said.text):
        leave_unturned(scribe)
        return "instruction"
    if stays_there(scribe, said.text):
        return "instruction"
    unturned = _BUT_UNTURNED.search(said.text)
    kind = _say(scribe, said.piece(0, unturned.start()) if unturned else said)
    if kind == "instruction" and unturned:
        leave_unturned(scribe)
    if kind == "instruction" and (sides := sides_told(said.text)) is not None:
        arrange_sides(scribe, *sides)
    return kind


def _say(scribe: Scribe, said: MappedText) -> str:
    said = over_all(scribe, to_thumb_place(scribe, part_of_heel(scribe, said)))
    said = from_row(scribe, said)
    placed = with_pattern_rows(scribe, with_places(scribe, with_yarns(said)))
    turned = with_turns(to_far_wrap(scribe, past_marker(scribe, placed)))
    scribe.loose = scribe.loose or turned.text != placed.text
    said = with_centre(scribe, with_needles(scribe, turned))
    if _says_no_more(scribe, said.text) or says_others_plain(scribe, said.text):
        return "text"
    said = as_one_round(scribe, over_so_many(scribe, said))
    take_up_all(scribe, said)
    last_parts_as_rows(scribe, said.text)
    _remember_label(scribe, said)
    if OF_THUMB.search(said.text) and scribe.now().sure:
        whole, said = said, without_thumb(said, scribe.now().count)
        if not said.text:
            scribe.note(whole.text)
            return "text"
    direct = scribe.parsed(said)
    begin_heel(scribe, said, None if direct is None else direct.says)
    if direct is None:
        if scribe.refusal is not None:
            raise scribe.refusal
        if (kind := yarn_then_work(scribe, said, say)) is not None:
            return kind
        if len(said.text) > MAX_SENTENCE:
            raise Lost("a sentence that is too long")
    if direct is not None and _is_sure(scribe, said, direct.says):
        scribe.remarks += [(remark, scribe.place) for remark in direct.remarks]
        return _direct(scribe, said, direct)
    scribe.loose = True
    if (kind := shared_among(scribe, said.text)) is not None:
        return kind
    return _read_by_meaning(scribe, said)


def _read_by_meaning(scribe: Scribe, said: MappedText) -> str:
    """Take a sentence that the language itself does not have."""
    stated = _with_change(scribe, stated_in(said))
    bare = stated.said
    if stated.change is not None:
        _change(scribe, stated, bool(bare.text.strip(" .,")))
    if stated.on_needle is not None and scribe.now().held():
        stated = attrs.evolve(stated, count=stated.on_needle)
    if stated.waiting is not None:
        scribe.claim("waiting", stated.waiting)
    if not bare.text.strip(" .,"):
        return of_the_heel(scribe, said) or _only_counted(scribe, said, stated)
    if stated.count is not None and tells_what_waits(said.text, bare.text):
        how = say(scribe, bare)
        state_count(scribe, said.text, stated.count)
        return how
    if said_by_count(scribe, said) or (
        picks_uncounted(bare.text) and picked_uncounted(scribe, said, stated)
    ):
        return "instruction"
    tells = _TELLS.match(bare.text) or _STANDS.match(said.text) or tells_of_shaping(said.text)
    if tells and not tells_of_each(bare.text):
        scribe.note(said.text)
        return "text"
    if (rows := _SO_MANY_ROWS.match(bare.text)) is not None:
        return rows_said(scribe, said, rows[1])
    scribe.stated, scribe.after, scribe.ignored = stated.count, None, False
    says = _sentence(scribe, with_last_rows(scribe, bare))
    if says and stated.count is not None and _REJOINED.search(said.text) and _fails(scribe, says):
        return picked_uncounted(scribe, said, stated)
    if scribe.ignored:
        stated = attrs.evolve(stated, count=None)
    if says is None and said.text.endswith(":") and not re.search(r"\*|\b[kp]\d", said.text):
        scribe.note(said.text)
        scribe.context.forget_rows()
        return "text"
    if says == [] and _ASKS_AGAIN.match(bare.text):
        raise Lost("the rows that are to be repeated were not read")
    if says is None or (not says and promises(bare.text)):
        says = _otherwise(scribe, said, stated, is_shaping=says is not None)
    if not says and not is_instruction(bare.text) and (kind := of_the_heel(scribe, said)):
        return kind
    if says is None:
        label = label_of(bare.text)
        if is_instruction(bare.text) or (
            label is not None
            and (label.numbers or label.name == "next")
            and not is_aside(bare.text[label.end :])
        ):
            raise Lost("no instruction that is known")
        scribe.note(said.text)
        if stated.count is not None:
            scribe.claim("count", stated.count)
        return "text"
    return _handed_on(scribe, said, says, stated.count)


_ASKS_AGAIN = WordForm(r"rep(?:eat)?\.? (?:steps?|rows?|rnds?|rounds?) ?\d")


def _handed_on(scribe: Scribe, said: MappedText, says: list[Says], count: Count | None) -> str:
    """Hand on what was understood, with its count; return how the sentence was taken."""
    if not says and count is not None:
        if (scribe.place.line, scribe.place.column) in scribe.claims:
            scribe.note(said.text)
            scribe.claim("count", count)
            return "text"
        scribe.state(count)
        return "count"
    give_with_count(scribe, says, count)
    return "instruction" if says else "text"


def _remember_label(scribe: Scribe, said: MappedText) -> None:
    """Remember where a row with a name stands first: "as for right mitten to the thumb round"."""
    label = label_of(said.text)
    if label is not None and label.name not in ("", "next", "last", "first"):
        scribe.context.labels.setdefault(label.name, scribe.place.line)


_BUT_UNTURNED = WordForm(  # "rep rows 3 and 4 five times, but do not turn at the end of the last"
    r"(?<=[a-z0-9)]),? (?:but|and) (?:do not|don't) turn(?: (?:the |your )?work)?(?: (?:after|at|on) (?:the |it|this|that|end|last|final|of|one|time|row|\s)*)?[.]?$",
)


_LAST_UNTURNED = WordForm(  # "The last row was a row 3; this one time, don't turn."
    r"(?:(?:the|your) last row (?:was|is|will be) (?:an? )?(?:[rw]s )?row(?: \d+)?[;,:]? (?:and |but )?(?:this (?:one |last )?time,? )?|this (?:one |last )?time,? )(?:do not|don't) turn\b(?: (?:after|at|on) (?:its|the|it|this|that|end|last|of|row|\s)*)?[.]?$"
)


_ASKS = WordForm(
    r"\w\?[\"'”]?(?:\s*\([^()]*\)\.?)?\s*$", re.NOFLAG
)  # "How many are there? (16 sts)"


_SLIPS_MARKERS = WordForm(r"slip (?:all |both )?(?:the |your )?markers\W*$")


def _says_no_more(scribe: Scribe, text: str) -> bool:
    """Tell whether a sentence asks something, or adds nothing: "… p9, turn. Turn.", "Slip markers."."""
    again = text.strip(" .!").lower() == "turn" and scribe.has_turned()
    return again or bool(_ASKS.search(text) or _SLIPS_MARKERS.match(text))


def _with_change(scribe: Scribe, stated: Stated) -> Stated:
    """Take "(4 sts)" for a change where the count behind it says so: "dec … (4 sts). 52 sts."."""
    if not isinstance(stated.count, int) or not scribe.following:
        return stated
    after, now = stated_in(MappedText.of(scribe.following)), scribe.now().count
    alone = not after.said.text.strip(" .") and isinstance(after.count, int)
    if not alone or not isinstance(now, int) or after.count == stated.count:
        return stated
    change = after.count - now  # type: ignore[operator]
    return (
        attrs.evolve(stated, count=None, change=change) if abs(change) == stated.count else stated
    )


def _otherwise(
    scribe: Scribe, said: MappedText, stated: Stated, *, is_shaping: bool
) -> list[Says] | None:
    """Return what a sentence means with its count, or what the count alone says."""
    if stated.count is not None and (says := _sentence(scribe, said)) is not None:
        return says  # the number belonged to the instruction
    says = by_count(scribe, stated.said.text, stated)
    if says is None and is_shaping:
        if (scribe.place.line, scribe.place.column) in scribe.claims:
            return []  # a rule has looked at it
        raise Lost("shaping that its counts do not settle")
    return says


_TELLS = WordForm(  # "Row 16 is DS, p9, turn": no row more, but how one reads
    r"(?:the )?(?:last )?(?:round|rnd|row) \d+ "
    r"(?:is|was|will be|should be|reads|will read|then reads|ends (?:with|at|on)|has)\b|"
    r"there (?:is|are|will be) no (?:k1|p1|sts?|stitch)\b[^.;]*\b(?:after|behind|following) |"
    r"(?:this|that|which) (?:is|was|will be|makes|would be) (?:now )?(?:the )?"
    r"(?:round|rnd|row) \d+\b|\([a-z0-9&]{2,6} (?:means|stands for) [^()]*\)[.]?$",
)
_STANDS = WordForm(  # "Row 7: 5 stitches between the markers, 29 in all"
    rf"(?:after )?(?:round|rnd|row) \d+ ?[:–-] ?(?:you have |there are )?{COUNT} (?:sts|stitches) "
    r"(?:between|in|on|before|after|at) [^;*]*$",
)
_SO_MANY_ROWS = WordForm(
    rf"[(\[]?({COUNT}|{'|'.join(NUMBER_WORDS[1:])}) (?:flap |heel |pattern )*(?:rows?|rounds?|rnds?)"
    r"(?: in all| in total| total| worked)?[)\]]?[.]?$",
)


def _only_counted(scribe: Scribe, said: MappedText, stated: Stated) -> str:
    """Take a sentence that states a count, and asks for nothing."""
    if stated.count is not None:
        state_count(scribe, said.text, stated.count)
    return "count"


_REJOINED = WordForm(r"\brejoin\b|\bjoin (?:the |in )?(?:yarn|wool)\b")


def _fails(scribe: Scribe, says: Sequence[Says]) -> bool:
    """Tell whether steps can't be worked as stitches lie: where they lie was not understood."""
    live = scribe.now()
    steps = [one for one in says if isinstance(one, st.Step)]
    if not live.tallies or len(steps) != len(says):
        return False
    return any(live.trial(steps, size).troubles for size in range(len(live.tallies)))


def _change(scribe: Scribe, stated: Stated, with_more: bool) -> None:
    """Keep by how many the count is said to change: here, or in the row before."""
    entries = scribe.assembler.entries
    last = entries[-1].step if entries else None
    assert stated.change is not None
    if with_more or not isinstance(last, st.Round | st.Row) or last.at is None:
        if with_more:
            scribe.claim("change", stated.change)
        return
    here, scribe.place = scribe.place, last.at
    scribe.claim("change", stated.change)
    scribe.place = here


_OF_A_PLACE = WordForm(  # "until 31 sole sts are left"
    r"\buntil\b[^.;]*\d[^.;]*\b(?:sole|instep) (?:sts|stitches)\b"
)
_ALREADY = WordForm(
    r"\b(?:again|held|holder)\b|\bneedle for (?:the |your )?heel\b|(?i:\bpurl \d+ (?:sts |stitches )?on ?to (?:one|a single) needle\b)",
    re.NOFLAG,
)


def _is_sure(scribe: Scribe, said: MappedText, says: Says) -> bool:
    """Tell whether a sentence that the grammar reads means here what it says."""
    if isinstance(says, st.CastOn) and scribe.now().tallies:
        return True
    if isinstance(says, st.Part) and tells_of_each(said.text):
        return False
    if isinstance(says, Again) and scribe.context.places and _OF_A_PLACE.search(said.text):
        return False
    if isinstance(says, Again) and says_change(said.text):
        return False
    if isinstance(says, Again) and _OF_THE_HEEL.search(said.text) and scribe.now().in_rounds:
        return False
    if isinstance(says, st.BeginHere):
        return not scribe.loose or scribe.now().in_rounds
    if isinstance(says, st.Part):
        turned = any(isinstance(item, Turn) for item in says.items[:-1])
        if turned and scribe.now().in_rounds and (scribe.loose or _fails(scribe, [says])):
            return False
        if _names_no_part(scribe, says) or (says.items == (KNIT,) and names_place(scribe, said)):
            return False
        if _WAITING_INSTEP.match(said.text) and "instep" in scribe.now().held():
            return scribe.now().in_rounds
        return not _ALREADY.search(said.text)
    if isinstance(says, st.CutYarn | st.UseYarn):
        return is_yarn(says.name)
    if isinstance(says, st.TakeOut):  # its stitches may have been told to be on needles before
        return not scribe.loose or any(t.waste or t.opened for t in scribe.now().tallies)
    return not isinstance(says, st.BindOff | st.WeaveIn | st.Graft | st.DrawUp) or bool(
        not scribe.loose or live_count(scribe)
    )


_WAITING_INSTEP = WordForm(
    r"(?:(?:now|then|and) )*(?:k|knit|work) (?!up)[^;:,.]*\binstep(?: sts| stitches)?[.]?$",
)
_OF_THE_HEEL = WordForm(rf"\bun?til+ (?:there are |you have )?{COUNT} heel (?:sts|stitches)\b")


def _is_round(scribe: Scribe, step: st.Round | st.Row) -> bool:
    ends = isinstance(step.items[-1], Turn | WrapTurn | Stay)
    return isinstance(step, st.Row) and step.side is None and not ends and goes_round(scribe)


def _names_no_part(scribe: Scribe, says: st.Part) -> bool:
    """Tell whether a word before a colon names a round ("Rib:"), and no part of the work."""
    names = {name for item in says.items if isinstance(item, On) for name in item.parts}
    if not names or label_of(min(names) + ": k1") is None:
        return False
    live = scribe.now()
    known = {name for tally in live.tallies for name in (*tally.parts, *tally.held)}
    return bool(names - known)


def _direct(scribe: Scribe, said: MappedText, found: object) -> str:
    says, count = found.says, found.count  # type: ignore[attr-defined]
    scribe.stated = count
    if isinstance(says, Numbered):
        label = label_of(said.text)
        step, numbers = says.step, says.numbers
        if (across := across_needles(scribe, step)) is not step:
            scribe.loose, step, says = True, across, attrs.evolve(says, step=across)
        if _is_round(scribe, step):
            scribe.loose = True
            step = st.Round(step.items)
            says = attrs.evolve(says, step=step)
        if isinstance(step, st.Round) and (plain := without_sides(scribe, step)) is not step:
            scribe.loose, step, says = True, plain, attrs.evolve(says, step=plain)
        if isinstance(step, st.Round) and isinstance(step.items[-1], Turn):
            scribe.loose = True
            return _give(scribe, [st.Part(step.items)], count)
        if not numbers and only_begins(scribe, step):
            scribe.loose = True
            return _give(scribe, [st.Part(step.items)], count)
        bare = said.text[label.end :].rstrip(" .\t\n") if label else ""
        if len(bare) == 1 and isinstance(step.items[0], Run):
            step = attrs.evolve(step, items=(attrs.evolve(step.items[0], amount=To()),))
            says = attrs.evolve(says, step=step)
        if label is not None and not numbers and _stops_before_its_end(scribe, step):
            scribe.loose = True
            return _give(scribe, [st.Part(step.items)], count)
        if label is not None and not numbers and ends_amid_heel(scribe, step):
            scribe.loose = True
            return _give(scribe, [st.Part(step.items)], count)
        if label is not None and label.which:
            return _give(scribe, labelled_rows(scribe, label, step.items), count)
        weave_in(scribe, numbers)
        if (rows := as_set_up(scribe, step, once=says.times is None)) is not None:
            return _give(scribe, rows, count)
        scribe.loose = scribe.loose or _EACH_BEHIND.search(said.text) is not None
        if says.times is None and (scribe.loose or _OF_HALVES.search(said.text)):
            step = on_halves(scribe, step)
            says = attrs.evolve(says, step=step)
        if says.times is None:
            arrange_by_instep(scribe, step.items)
        arrange_as_before(scribe, step.items)
        scribe.numbered(step, numbers, label.name if label else "")
        if (missing := between(scribe, numbers)) is not None:
            return _give(scribe, [says, missing], count)
        return _give(scribe, [says], count)
    if isinstance(says, Again) and scribe.context.alternate:
        weave_in(scribe, (max(says.numbers, default=0) + 1,), final=True)
    if isinstance(says, st.Part):
        return _give(scribe, unlabelled(scribe, says), count)
    try:
        return _give(scribe, [says], count)
    except PatternSyntaxError as error:
        if not isinstance(says, Again):
            raise
        try:
            steps = repeated(scribe, said.text)
        except (Lost, PatternSyntaxError):
            steps = None
        if steps is None:
            raise error from None
        return _give(scribe, steps, count)


def _stops_before_its_end(scribe: Scribe, step: st.Round | st.Row) -> bool:
    """Tell whether a round ends where stitches are left, to be told of next: the heel's."""
    to = getattr(step.items[-1], "amount", None)
    before = isinstance(to, To) and to.where is Where.END and to.before != 0
    stops = before and isinstance(step, st.Round) and (scribe.loose or not scribe.only)
    return stops and scribe.now().in_rounds


_EACH_BEHIND = WordForm(r"(?<![Oo]n )\beach needle:", re.NOFLAG)  # told behind its stitches
_OF_HALVES = WordForm(
    r"\b(?:second|2nd|other) marker\b|"
    r"\b(?:of|on) (?:(?:this|the|each|that) )?(?:half|side|needle)\b|"
    r"\b(?:marker|point|mark|middle|side) or\b|"
    r"\bbefore (?:the |each )?marker[^()]*[)\]] (?:twice|2 times)|"
    r"\bbefore (?:the )?(?:middle|half-?way)\b|"
    r"\b(?:on|over) (?:the )?(?:second|other|next) (?:needle|half|side)\b",
)


def _give(scribe: Scribe, says: Sequence[Says], count: Count | None) -> str:
    says = gone_back(scribe, says)
    if scribe.loose:
        give_with_count(scribe, says, count)
    else:
        scribe.give(says, count)
    return "instruction"


_RULES = (
    of_each, with_parted_row, turned_again, round_again, scheduled, shaped_evenly, starred_rows, banded, groups, rows_on, worked_through, do_this, of_two_sections, again, rows_in_this_way, on_one_needle, plain_work, whole_clause,
    in_any_order, rows_in_any_order, short_rows_on, turned_on, clauses,
)  # fmt: skip


def _sentence(scribe: Scribe, said: MappedText) -> list[Says] | None:
    """Return what a sentence without its counts means; None where that is not known."""
    label = label_of(said.text)
    if label is not None:
        found = labelled(scribe, label, said.piece(label.end, len(said.text)))
        if found is not None and _WRAPS_LAST.search(said.text) and _is_unturned(found):
            raise Lost("a row whose end was not read")
        if found is not None:
            return found
    said = as_counted(scribe, said.sub(NEEDLE_TAG, "").sub(_N_NUMBER, r"needle \1"))
    said = until_all(scribe, said)
    text = without_asides(said)
    for one in (said, text) if text.text != said.text else (said,):
        for rule in _RULES:
            found = rule(scribe, one)
            if found is not None:
                return found
    return _after_lead(scribe, said)


_WRAPS_LAST = WordForm(r", w&t\W*$")  # "k16, lift, w&t", where nobody says what "lift" is


def _is_unturned(says: Sequence[Says]) -> bool:
    """Tell whether what was understood is one row of counted stitches, without a turn."""
    steps = [one.step for one in says if isinstance(one, Numbered)]
    counted = (
        (isinstance(item, Run) and isinstance(item.amount, int) for item in steps[0].items)
        if steps
        else ()
    )
    return len(says) == len(steps) == 1 and all(counted)


_N_NUMBER = WordForm(r"\bN ?(\d)\b(?!\s*:)", re.NOFLAG)
_LEAD = WordForm(r"[A-Za-z][A-Za-z '-]{2,32}:\s+(?=\S)", re.NOFLAG)


def _after_lead(scribe: Scribe, said: MappedText) -> list[Says] | None:
    """Read "Decrease for top: ..." as what stands behind the colon."""
    lead = _LEAD.match(said.text)
    if lead is None or label_of(said.text) is not None:
        return None
    rest = said.piece(lead.end(), len(said.text))
    found = _sentence(scribe, rest)
    asks = is_instruction(lead[0]) or is_instruction(rest.text)
    return [] if found is None and not asks else found
