"""Constructions by name: those of the package, those of other packages, and your own.

A part is an attrs class with a ``name``. A decorator (`heel`, `toe`, `cuff`, `leg`) makes it known;
it refuses at once what is incomplete, and a name that is taken. Packages name a module of parts
under the entry point group ``loopwright.parts``; a design file may name a Python file of them.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from hashlib import sha256
from importlib.metadata import entry_points
from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path
from typing import Any, Final, Generic, TypeVar, overload

import attrs

from loopwright.errors import PartError, SizingError

__all__ = ["GROUP", "Parts", "installed_parts", "parts_of_file"]

GROUP: Final = "loopwright.parts"
"""The entry point group under which a package names its modules of parts."""

T = TypeVar("T")
C = TypeVar("C", bound=type[Any])


@attrs.define
class Parts(Generic[T]):
    """The constructions of one kind by their names, and the decorator that makes one known.

    Parameters
    ----------
    what : str
        What they are: ``"heel"``.
    base : type
        The class that each derives from; what is abstract in it each must have.
    texts : mapping of str to tuple of str
        Class attributes that each must have, and what they may say; nothing stands for any text.
    is_usual : bool
        Whether each must be made from its name alone.

    Examples
    --------
    >>> import attrs
    >>> from typing import ClassVar
    >>> from loopwright.sock import heel, heel_names
    >>> from loopwright.sock.heels import Heel
    >>> @heel
    ... @attrs.frozen
    ... class Anchor(Heel):
    ...     name: ClassVar[str] = "anchor"
    Traceback (most recent call last):
    ...
    loopwright.errors.PartError: heel Anchor: it lacks begins, numbers, steps; ...
    >>> "anchor" in heel_names()
    False
    >>> heel.names()[-1], heel.named("flap", longer=2).longer
    ('flap', 2)
    >>> before = heel.kept()
    >>> heel(replace=True)(type(heel.named("flap"))).__name__
    'Flap'
    >>> heel.restore(before)  # as if it had never been replaced
    """

    what: str
    base: type
    texts: dict[str, tuple[str, ...]]
    is_usual: bool = True
    _known: dict[str, list[Callable[..., T]]] = attrs.field(factory=dict, init=False, repr=False)

    @overload
    def __call__(self, cls: C, /) -> C: ...
    @overload
    def __call__(self, /, *, replace: bool) -> Callable[[C], C]: ...
    def __call__(self, cls: C | None = None, /, *, replace: bool = False) -> C | Callable[[C], C]:
        """Make a class known by its ``name``: ``@heel``, or ``@heel(replace=True)``.

        Raises
        ------
        PartError
            It lacks something that a sock asks for, or its name is taken.
        """
        if cls is None:
            return lambda later: self._add(later, replace)
        return self._add(cls, replace)

    def _add(self, cls: C, replace: bool) -> C:
        self._require_whole(cls)
        if cls.name in self._known and not replace:
            problem = f"the name {cls.name!r} is taken"
            advice = f"choose another, or say @{self.what}(replace=True)"
            raise PartError(f"{self.what} {cls.__name__}", problem, advice)
        self._known.setdefault(cls.name, []).append(cls)
        return cls

    def _require_whole(self, cls: Any) -> None:
        named = getattr(cls, "__name__", repr(cls))
        base = self.base.__name__
        if not isinstance(cls, type) or not issubclass(cls, self.base):
            problem = f"it doesn't derive from {base}"
            raise PartError(f"{self.what} {named}", problem, f"write class {named}({base})")
        if "__attrs_attrs__" not in vars(cls):
            advice = f"write @{self.what} above @attrs.frozen"
            raise PartError(f"{self.what} {named}", "it is no attrs class", advice)
        if lacking := [*self._lacking(cls)]:
            advice = f"see loopwright.sock's {base} for what each is"
            problem = f"it lacks {', '.join(lacking)}"
            raise PartError(f"{self.what} {named}", problem, advice)

    def _lacking(self, cls: Any) -> Iterator[str]:
        for text, may_be in self.texts.items():
            said = getattr(cls, text, None)
            if not isinstance(said, str) or not (said in may_be if may_be else _is_name(said)):
                kind = " or ".join(map(repr, may_be)) if may_be else "a short text in small letters"
                yield text if said is None else f"{text} that is {kind} (found {said!r})"
        yield from sorted(getattr(cls, "__abstractmethods__", ()))
        if self.is_usual:
            for field in attrs.fields(cls):
                if field.init and field.default is attrs.NOTHING:
                    yield f"a usual value of {field.name}"

    def names(self) -> tuple[str, ...]:
        """Return the names of all of them, in the order in which they were made known."""
        return tuple(self._known)

    def named(self, name: str, **options: Any) -> T:
        """Return the one of this name; a `SizingError` lists those there are, or its options."""
        if name not in self._known:
            found = f"expected one of {', '.join(self._known)}"
            raise SizingError(self.what, repr(name), found)
        made: Any = self._known[name][-1]
        if options:
            fields = [field.name for field in attrs.fields(made) if field.init]
            for option in options:
                if option not in fields:
                    expected = f"it has: {', '.join(fields) or 'none'}"
                    raise SizingError(f"{name} {self.what}", f"an option {option!r}", expected)
        for field in attrs.fields(made):
            if field.init and field.default is attrs.NOTHING and field.name not in options:
                expected = f"expected {self.what}_named({name!r}, {field.name}=...)"
                raise SizingError(f"{name} {self.what}", f"no {field.name}", expected)
        chosen: T = made(**options)
        return chosen

    def forget(self, name: str) -> None:
        """Undo the last ``@heel`` of this name: what it had replaced is known again.

        Raises
        ------
        PartError
            Nothing is known by that name, or it is the package's own.

        Examples
        --------
        >>> from loopwright.sock import heel
        >>> from loopwright.sock.heels import Flap
        >>> heel(replace=True)(Flap) is Flap
        True
        >>> heel.forget("flap")
        >>> heel.forget("flap")
        Traceback (most recent call last):
        ...
        loopwright.errors.PartError: heel 'flap': it belongs to loopwright itself; replace it ...
        """
        known = self._known.get(name)
        if not known:
            advice = f"known are {', '.join(self._known)}"
            raise PartError(f"{self.what} {name!r}", "it isn't known", advice)
        if len(known) == 1 and known[0].__module__.startswith("loopwright."):
            advice = f"replace it with @{self.what}(replace=True)"
            raise PartError(f"{self.what} {name!r}", "it belongs to loopwright itself", advice)
        known.pop()
        if not known:
            del self._known[name]

    def kept(self) -> dict[str, list[Callable[..., T]]]:
        """Return what is known now, for `restore`."""
        return {name: [*known] for name, known in self._known.items()}

    def restore(self, kept: dict[str, list[Callable[..., T]]]) -> None:
        """Know what `kept` returned, and nothing else."""
        self._known = {name: [*known] for name, known in kept.items()}


def _is_name(text: str) -> bool:
    return bool(text) and "," not in text and text == " ".join(text.lower().split())


@contextmanager
def _all_or_none(kinds: tuple[Parts[Any], ...]) -> Iterator[None]:
    """Make known all that is made known inside, or nothing where it fails."""
    before = [kind.kept() for kind in kinds]
    try:
        yield
    except BaseException:
        for kind, kept in zip(kinds, before, strict=True):
            kind.restore(kept)
        raise


_LOADED: set[tuple[str, str]] = set()


def installed_parts(*kinds: Parts[Any]) -> None:
    """Make known the parts of installed packages, each once.

    Raises
    ------
    PartError
        A package's parts can't be imported, or are refused; says which package.
    """
    for point in entry_points(group=GROUP):
        if (point.name, point.value) in _LOADED:
            continue
        of = point.dist.name if point.dist is not None else "a package"
        with _all_or_none(kinds), _told(f"parts of {of}", f"mend or uninstall {of}"):
            point.load()
        _LOADED.add((point.name, point.value))


def parts_of_file(path: Path, *kinds: Parts[Any]) -> None:
    """Run a Python file that makes parts known. It can do whatever you can: know what it holds.

    The same file again is run no second time unless it has changed; then what it made known
    before is forgotten first.

    Raises
    ------
    PartError
        It can't be read or run, or what it makes known is refused.
    """
    path = path.resolve()
    advice = "mend the file, or leave it out"
    with _told(f"parts in {path.name}", advice):
        digest = sha256(path.read_bytes()).hexdigest()
        module = f"loopwright_parts_{sha256(str(path).encode()).hexdigest()[:12]}"
        if (module, digest) in _LOADED:
            return
        with _all_or_none(kinds):
            for kind in kinds:
                _forget_module(kind, module)
            _run(path, module)
        _LOADED.difference_update({one for one in _LOADED if one[0] == module})
        _LOADED.add((module, digest))


def _forget_module(kind: Parts[Any], module: str) -> None:
    kept = {
        name: rest
        for name, known in kind.kept().items()
        if (rest := [one for one in known if one.__module__ != module])
    }
    kind.restore(kept)


def _run(path: Path, module: str) -> None:
    spec = spec_from_file_location(module, path)
    if spec is None:
        raise PartError(
            f"parts in {path.name}", "it is no Python file", "name one, such as heel.py"
        )
    made = module_from_spec(spec)
    sys.modules[module] = made  # so that classes of it can be pickled
    try:
        # Not by the loader: it would take what it compiled before, where a file that changed within
        # a second is as long as it was.
        exec(compile(path.read_bytes(), str(path), "exec"), vars(made))
    except BaseException:
        del sys.modules[module]
        raise


@contextmanager
def _told(what: str, advice: str) -> Iterator[None]:
    """Say of any error whose parts it comes from: their code is not ours."""
    try:
        yield
    except (Exception, SystemExit) as error:
        kind = "" if isinstance(error, PartError | OSError) else f"{type(error).__name__}: "
        raise PartError(what, f"{kind}{error}", advice) from error
