"""A recipe's body: introduction, numbered steps under their headings, notes between them."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from bookmaker.measures.numbers import Unreadable
from bookmaker.model.method import Limit, Method, Note, NoteKind, Section, Step
from bookmaker.model.prose import Block
from bookmaker.problems.anchors import Anchor, Path
from bookmaker.reading.prose import Body, Braces, Container, Heading, Passage, Span, StepText, read_body
from bookmaker.reading.steps import ATTRIBUTES, split_attributes
from bookmaker.reading.suggest import did_you_mean
from bookmaker.reading.texts import Texts, parts
from bookmaker.reading.tree import KEY

STEPS = "steps"
NOTES = "notes"
LINKS = "links"
"""The first step of the paths under which the body's parts stand."""

_FIELDS = {"if-missed": "if_missed", "caution": "cautions"}
_BLOCK_NAMES = {kind.value: kind for kind in NoteKind}


@dataclass(frozen=True, slots=True)
class ReadMethod:
    """The method, the links in it with their anchors, and where everything stands in the document."""

    method: Method
    links: tuple[tuple[str, str, Anchor], ...]
    spans: Mapping[Path, Span]


class _Reader:
    """Folds the parts of a body into a method, in one pass."""

    def __init__(self, texts: Texts) -> None:
        self.texts = texts
        self.spans: dict[Path, Span] = {}
        self.steps: list[tuple[int, Step]] = []
        self.headings: list[str] = [""]
        self.introduction: list[Block] = []
        self.notes: list[Note] = []
        self.after: list[tuple[int, str, Anchor]] = []

    def anchor(self, span: Span, *path: str | int) -> Anchor:
        self.spans[path] = span
        return Anchor(self.texts.document, path)

    def take(self, body: Body) -> None:
        for part in body.parts:
            match part:
                case Heading():
                    self._heading(part)
                case StepText():
                    self._step(part)
                case Container():
                    self._note(part)
                case Passage(block) if not self.steps:
                    self.introduction.append(block)
                case Passage(block):
                    self.notes.append(Note(NoteKind.NOTE, (block,), len(self.steps)))

    def _heading(self, heading: Heading) -> None:
        if heading.level == 1:
            self.texts.report("title-in-body", Anchor(self.texts.document, (), *heading.span), text=heading.text)
        self.headings.append(heading.text)

    def _note(self, container: Container) -> None:
        anchor = Anchor(self.texts.document, (), *container.span)
        name = " ".join(container.name.split())
        low = name.lower()
        if not container.closed:
            self.texts.report("unclosed-block", anchor, name=name)
        kind, hazard = _BLOCK_NAMES.get(low), ""
        if kind is None and low.startswith("caution "):
            kind, hazard = NoteKind.CAUTION, name.split(" ", 1)[1]
        if kind is None:
            fix = did_you_mean(name, _BLOCK_NAMES) or f"blocks are: {', '.join(_BLOCK_NAMES)}"
            self.texts.report("unknown-block", anchor, fix=fix, name=name)
        elif kind is NoteKind.CAUTION and not hazard:
            self.texts.report("caution-without-name", anchor)
        elif not container.content and kind is not NoteKind.CAUTION:
            self.texts.report("empty-block", anchor, name=name)
        else:
            self.anchor(container.span, NOTES, len(self.notes))
            self.notes.append(Note(kind, container.content, len(self.steps), hazard))

    def _step(self, item: StepText) -> None:
        number = len(self.steps) + 1
        anchor = self.anchor(item.span, STEPS, number)
        if not item.content:
            self.texts.report("empty-step", anchor, number=number)
        values: dict[str, Any] = {}
        for braces in item.braces:
            self._braces(braces, number, values)
        self._limit(values, number)
        step = Step(
            number=number,
            text=item.content,
            anchor=anchor,
            **{key: value for key, value in values.items() if key != "after"},
        )
        self.steps.append((len(self.headings) - 1, step))
        for index, name in enumerate(values.get("after", ())):
            self.after.append((number, name, anchor.at("after", index)))

    def _braces(self, braces: Braces, number: int, values: dict[str, Any]) -> None:
        whole = self.anchor(braces.span, STEPS, number, "{}")
        try:
            pairs = split_attributes(braces.text)
        except Unreadable as refused:
            start, end = braces.place(refused.start, refused.end or len(braces.text))
            self.texts.report(
                "bad-braces", Anchor(self.texts.document, (), start, end), fix=refused.hint, why=refused.why
            )
            return
        for pair in pairs:
            at = (STEPS, number, pair.key)
            key = self.anchor(braces.place(pair.key_start, pair.key_start + len(pair.key)), *at, KEY)
            anchor = self.anchor(braces.place(pair.start, pair.end), *at)
            attribute = ATTRIBUTES.get(pair.key)
            field = _FIELDS.get(pair.key, pair.key)
            if attribute is None:
                fix = did_you_mean(pair.key, ATTRIBUTES) or f"attributes are: {', '.join(ATTRIBUTES)}"
                self.texts.report("unknown-attribute", key, fix=fix, name=pair.key)
            elif field in values:
                self.texts.report("attribute-twice", key, name=pair.key)
            else:
                narrow = anchor if "\n" not in pair.value else whole
                value = self.texts.read(pair.value, narrow, attribute.read, "bad-attribute")
                if value is not None or pair.key == "limit":
                    values[field] = value
                if isinstance(value, tuple):
                    for index, (_, start, end) in enumerate(parts(pair.value, ",")):
                        self.anchor(braces.place(pair.start + start, pair.start + end), *at, index)

    def _limit(self, values: dict[str, Any], number: int) -> None:
        missed, point = values.pop("if_missed", ""), values.pop("ccp", "")
        text = values.pop("limit", "")
        if text is None:
            return  # it could not be read, which is reported
        if text:
            values["limit"] = Limit(text, missed, point)
        elif missed or point:
            what = "if-missed" if missed else "ccp"
            self.texts.report("limit-missing", Anchor(self.texts.document, (STEPS, number, what, KEY)), name=what)

    def method(self) -> Method:
        """The finished method; `after` turned into numbers."""
        named: dict[str, int] = {}
        for _, step in self.steps:
            if not step.name:
                continue
            if step.name.casefold() in named:
                self.texts.report("step-name-twice", step.anchor.at("name"), name=step.name)
            named.setdefault(step.name.casefold(), step.number)
        after: dict[int, list[int]] = {}
        for number, name, anchor in self.after:
            found = named.get(name.casefold())
            if found is None or found >= number:
                self._no_such_step(name, found, number, anchor)
            else:
                after.setdefault(number, []).append(found)
        sections = []
        for index, heading in enumerate(self.headings):
            own = tuple(
                replace(step, after=tuple(after[step.number])) if step.number in after else step
                for at, step in self.steps
                if at == index
            )
            if own or heading:
                sections.append(Section(heading, own))
        return Method(tuple(self.introduction), tuple(sections), tuple(self.notes))

    def _no_such_step(self, name: str, found: int | None, number: int, anchor: Anchor) -> None:
        names = [step.name for _, step in self.steps if step.name and step.number < number]
        if found is not None:
            self.texts.report("step-not-before", anchor, name=name)
            return
        fix = did_you_mean(name, names) or (
            f"steps with a name here: {', '.join(names)}" if names else 'give that step name="…"'
        )
        self.texts.report("unknown-step", anchor, fix=fix, name=name)


def read_method(text: str, offset: int, texts: Texts) -> ReadMethod:
    """Read a recipe's body, which begins at `offset` of its document."""
    body = read_body(text, texts.document, offset)
    reader = _Reader(texts)
    reader.take(body)
    for complaint in body.complaints:
        texts.report(complaint.code, Anchor(texts.document, (), *complaint.span))
    links = tuple(
        (link.path, link.written, reader.anchor(link.span, LINKS, index)) for index, link in enumerate(body.links)
    )
    return ReadMethod(reader.method(), links, reader.spans)


def read_step_overrides(written: Mapping[str, str], texts: Texts, at: Anchor) -> dict[str, Any]:
    """Attributes that a size gives a step of its own, as fields of `Step`."""
    values: dict[str, Any] = {}
    for key, text, anchor in texts.each(written, at):
        attribute = ATTRIBUTES.get(key)
        if attribute is None or key in _FIXED:
            known = [name for name in ATTRIBUTES if name not in _FIXED]
            fix = did_you_mean(key, known) or f"a size may change: {', '.join(known)}"
            texts.report("unknown-attribute", anchor.at(KEY), fix=fix, name=key)
        elif (value := texts.read(text, anchor, attribute.read, "bad-attribute")) is not None:
            values[key] = value
    return values


_FIXED = ("name", "after", "uses", "limit", "if-missed", "ccp", "caution")
"""What a step does or must keep to; a size changes how long and how hot, not what."""
