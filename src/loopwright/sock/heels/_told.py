"""What a knitter asks at a heel, answered where the question comes up: notes between the steps."""

from __future__ import annotations

from loopwright.pattern.steps import Note, Step
from loopwright.plurals import plural

__all__ = [
    "flap_takes_in",
    "instep_back",
    "new_stitches",
    "opened",
    "pick_up_chains",
    "rnd_begins_before_instep",
    "strands_taken",
    "turned",
    "waste_marks",
    "worked_in_rows",
    "worked_round",
]


def worked_round(half: int, instep: int) -> list[Step]:
    """Tell which half a heel in the round is worked on."""
    return [
        Note(
            "The heel is worked in the round on the {} sts of the back and as many new ones; "
            "the {} sts of the instep rest.",
            numbers=[half, instep],
        )
    ]


def worked_in_rows(half: int, instep: int) -> list[Step]:
    """Tell which half a heel in rows is worked on."""
    return [
        Note(
            "The heel is worked back and forth on the first {} sts, the back; the {} sts of the "
            "instep rest.",
            numbers=[half, instep],
        )
    ]


def waste_marks(half: int) -> list[Step]:
    """Tell that a heel is made later, and where."""
    return [
        Note(
            "The heel is made when all else is done. Waste yarn marks its place now, across the "
            "first {} sts, the back; the same {} sts are then knit again, with the working yarn.",
            numbers=[half, half],
        )
    ]


def new_stitches() -> list[Step]:
    """Tell where new stitches over waste yarn lie."""
    return [
        Note(
            "The new sts are made with the working yarn, behind the resting instep, from corner "
            "to corner; the first st of the heel comes next."
        )
    ]


def instep_back(*, waits: bool, by_turn: bool) -> list[Step]:
    """Tell how the instep comes back on its needle, and where the yarn is."""
    yarn = "the yarn waits there" if waits else "join the yarn there"
    if by_turn:
        yarn = "take up there the yarn whose turn it is, or join it if it was cut"
    return [
        Note(
            "The rnd begins with the instep again. Slip its sts on a needle that points to the "
            f"right, right side facing you: the st at its tip is worked first; mark it; {yarn}."
        )
    ]


def strands_taken(half: int, corner: str) -> list[Step]:
    """Tell which strands of a provisional cast-on are lifted."""
    where = "the last, just before the tail, is at the corner where rnd and cast-on began"
    if corner == "last":
        where = (
            "the first is at the corner after the instep, where the cast-on ended: its last corner"
        )
    return [
        Note(
            "Lift the strands between the {} sts cast on over waste yarn on a second needle, from "
            f"the end of the instep on: {{}} lie between them, and {where}.",
            numbers=[half, half - 1],
        )
    ]


def opened(half: int) -> list[Step]:
    """Tell how a row of waste yarn is opened, and where the yarn is joined."""
    return [
        Note(
            "Hold the sock with what was knitted before the waste yarn below it, right side facing "
            "you. Slip the {} sts below the waste yarn on a needle that points to the right: the "
            "rnd begins at its tip; mark it, and join the yarn there.",
            numbers=[half],
        ),
        Note(
            "Turn the sock upside down and lift the strands above the waste yarn on a second "
            "needle that points to the right: {} lie between the {} sts, and the last, just before "
            "the tail, is the one at the corner where the rnd begins.",
            numbers=[half - 1, half],
        ),
    ]


def turned() -> list[Step]:
    """Tell to turn before a row on the wrong side."""
    return [Note("Turn the work: the next row is on the wrong side.")]


def pick_up_chains(chains: int, rows: int) -> list[Step]:
    """Tell which edge is picked up, and how many chains it has."""
    return [
        Note(
            "Right side facing you, knit across the heel, then go up the edge of the flap: {} "
            "chains of slipped sts, one for two of its {} rows, the plain one before row 1 among "
            "them.",
            numbers=[chains, rows],
        )
    ]


def rnd_begins_before_instep(*, corner: int) -> list[Step]:
    """Tell where the round begins after a flap, and which stitches at the `corner` are picked up
    since no strand runs there.
    """
    first = f", beginning with {plural(corner, 'st')} in the corner" if corner else ""
    return [
        Note(
            "The rnd begins here from now on, before the instep, whose needle points to the right: "
            f"move the marker. After the instep go down the other edge of the flap{first}."
        )
    ]


def flap_takes_in(gusset: int) -> list[Step]:
    """Tell what the rows of a toe-up flap do."""
    return [
        Note(
            "The flap comes next, on the same sts: each of its rows takes in one of the {} sts of "
            "the gusset at its end.",
            numbers=[gusset],
        )
    ]
