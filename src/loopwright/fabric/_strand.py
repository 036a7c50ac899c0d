"""A strand: one continuous length of yarn."""

from __future__ import annotations

import attrs

from loopwright.border import guard

__all__ = ["Strand"]


@attrs.frozen
class Strand:
    """One continuous length of yarn.

    Parameters
    ----------
    name : str
        As the pattern calls it, for example ``"main"``.
    role : str
        ``"working"`` or ``"waste"``.
    woven : tuple of bool
        Whether the tail at its start and the one at its end are woven in.
    cut : bool
        Whether it has been cut from the ball.

    Examples
    --------
    >>> from loopwright.making import Work, cast_on, waste_row
    >>> work = Work()
    >>> cast_on(work, 8)
    >>> work.turn()
    >>> waste_row(work, 4, "heel")
    >>> for strand in work.fabric().strands:
    ...     print(strand.name, strand.role, strand.cut)
    main working False
    heel waste True
    """

    name: str
    role: str = "working"
    woven: tuple[bool, bool] = (False, False)
    cut: bool = False

    @property
    def yarn(self) -> str:
        """The yarn that it is of: strands of one yarn are numbered, "main 2" is of "main"."""
        yarn, _, number = self.name.rpartition(" ")
        return yarn if yarn and number.isdigit() else self.name


guard(globals())
