"""What sentences say of yarns and panels: part of the builder."""

from __future__ import annotations

from typing import Any

import attrs
from lark import Token, Transformer

from loopwright.pattern import steps as st
from loopwright.pattern._grammar.numerals import column_of, number_in, one_of
from loopwright.pattern._words import figure, lower
from loopwright.pattern.items import Run, With, WorkPanel
from loopwright.pattern.panels import PanelRounds
from loopwright.pattern.stripes import KeepPlace, ResumeStripes, Stripes

__all__ = ["PanelRound", "YarnRules"]


def _yarn(token: Token) -> str:
    return " ".join(str(token).split())


@attrs.frozen
class PanelRound:
    """One round of a panel, with its number."""

    number: int
    step: PanelRounds


class YarnRules(Transformer[Token, Any]):
    """One method for each form of the grammar that names a yarn."""

    def with_yarn(self, children: list[Token]) -> With:
        return With(_yarn(children[0]), column=column_of(children[0]))

    def work_panel(self, children: list[Token]) -> WorkPanel:
        return WorkPanel(column=column_of(children[0]))

    def panel_round(self, children: list[Any]) -> PanelRound:
        return PanelRound(figure(str(children[0])), PanelRounds((children[-1],)))

    def run_in(self, children: list[Any]) -> list[With | Run]:
        run, token = children
        return [With(_yarn(token), column=column_of(token)), run]

    def band(self, children: list[Token]) -> tuple[str, int]:
        number, _, token = children
        return _yarn(token), one_of(number, number_in(number, str(number)))

    def stripes(self, children: list[Any]) -> Stripes:
        bands = [child for child in children if isinstance(child, tuple)]
        begin = [child for child in children if getattr(child, "type", "") == "BEGIN_WITH"]
        return Stripes(bands, figure(str(begin[0])) if begin else 1)

    def keep_place(self, _: list[Token]) -> KeepPlace:
        return KeepPlace()

    def resume(self, children: list[Token]) -> ResumeStripes:
        return ResumeStripes(begun=any(token.type == "WITH_ROUND" for token in children))

    def use_yarn(self, children: list[Token]) -> st.UseYarn:
        return st.UseYarn(_yarn(children[0]))

    def go_on_in(self, children: list[Token]) -> st.UseYarn:
        return st.UseYarn(_yarn(children[0]), held=True)

    def join_yarn(self, children: list[Token]) -> st.UseYarn:
        return st.UseYarn(_yarn(children[0]), new=True)

    def rejoin(self, _: list[Token]) -> st.UseYarn:
        return st.UseYarn(st.MAIN, new=True)

    def cut_yarn(self, children: list[Token]) -> st.CutYarn:
        name = _yarn(children[0])
        return st.CutYarn("" if lower(name).startswith(("cut", "break")) else name)
