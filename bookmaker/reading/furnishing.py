"""What a recipe names beyond its formula: the house's moulds, equipment and channels, cautions, pictures, links."""

import re
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from bookmaker.model.book import Caution
from bookmaker.model.house import House, Mould
from bookmaker.model.line import Line, Stage
from bookmaker.model.method import Method, NoteKind, Section, Step
from bookmaker.model.recipe import Kind, Layer, ListPrice, PackagingLine
from bookmaker.model.refs import StoresRef, Target
from bookmaker.model.stores import StoresKind
from bookmaker.model.teaching import TOPICS
from bookmaker.model.written.line import Words
from bookmaker.model.written.recipe import WrittenLayer, WrittenRecipe
from bookmaker.model.yields import FrameYield, MouldYield, TinYield, Yield
from bookmaker.problems.anchors import Anchor
from bookmaker.problems.problem import Related
from bookmaker.reading.bounds import misses_limit, unlikely_setting
from bookmaker.reading.method import NOTES
from bookmaker.reading.quantities import Shelf
from bookmaker.reading.suggest import did_you_mean, fold, near
from bookmaker.reading.texts import Texts


@dataclass(frozen=True, slots=True)
class Room:
    """What a recipe is bound against: the shelf, the cautions, the book's recipe files, its other files, and the words
    of its glossary (`terms`, as `glossary.spelt` has them).

    It is not `furnished` where the house could not be read: then nobody is told that the house lacks something.
    """

    shelf: Shelf
    cautions: Mapping[str, Caution]
    documents: Collection[str]
    files: Collection[str]
    furnished: bool = True
    terms: Mapping[str, str] = field(default_factory=dict)


class Furnishing:
    """Binds the names of one recipe that are not in its formula; what is unknown is reported into `texts`."""

    def __init__(self, written: WrittenRecipe, room: Room, texts: Texts) -> None:
        self.written = written
        self.room = room
        self.house: House = room.shelf.house
        self.texts = texts

    # --- the house

    def of_house(self, name: str, known: Iterable[str], anchor: Anchor, what: str, key: str) -> str:
        """The house's own spelling of a name, or nothing where it has no such thing."""
        names = list(known)
        found = next((each for each in names if fold(each) == fold(name)), "")
        if not found and self.room.furnished:
            fix = did_you_mean(name, names) or f"add it under `{key}` in house.yaml"
            self.texts.report("not-in-house", anchor, fix=fix, what=what, name=name)
        return found

    def yields(self) -> Yield | None:
        """The yield with the house's spelling of its vessel; None where there is no such vessel."""
        at = self.written.yields_anchor
        match self.written.yields:
            case MouldYield(_, name) as moulds:
                found = self.of_house(name, (mould.name for mould in self.house.moulds), at, "mould", "moulds")
                return replace(moulds, mould=found) if found and self._is_for_food(found, at) else None
            case TinYield(_, name) as tins:
                found = self.of_house(name, (tin.name for tin in self.house.tins), at, "tin", "tins")
                return replace(tins, tin=found) if found else None
            case FrameYield(_, name) as frames:
                found = self.of_house(name, (frame.name for frame in self.house.frames), at, "frame", "frames")
                return replace(frames, frame=found) if found else None
        return self.written.yields

    def _is_for_food(self, name: str, anchor: Anchor) -> bool:
        mould = next(mould for mould in self.house.moulds if mould.name == name)
        if self.written.kind is Kind.MOULDING:
            return True
        if mould.food_contact:
            return self._material_is_for_food(mould, anchor)
        related = [Related(mould.anchor, "the mould")]
        self.texts.report("mould-not-for-food", anchor, related=related, mould=name)
        return False

    def _material_is_for_food(self, mould: Mould, anchor: Anchor) -> bool:
        """Whether what the stores say of a bought material bears the house's word out. (What a mould was cast from is
        looked at where it is cast.)
        """
        shelf = self.room.shelf
        named = shelf.names.find(mould.made_of) if mould.made_of else None
        item = shelf.stores[named.target.id] if named and isinstance(named.target, StoresRef) else None
        if item is None or item.kind is not StoresKind.MOULDING or item.food_contact:
            return True
        related = [Related(item.anchor, "the material"), Related(mould.anchor, "the mould")]
        self.texts.report("material-not-for-food", anchor, related=related, name=item.id, mould=mould.name)
        return False

    def labour_role(self) -> str:
        """Who makes it, in the house's spelling."""
        written = self.written.labour_role
        if written is None:
            return ""
        roles = [role for role, _ in self.house.labour]
        found = self.of_house(written.text, roles, written.anchor, "labour role", "labour") if roles else ""
        return found or written.text

    def prices(self) -> Iterator[ListPrice]:
        """Prices of the channels that the house has."""
        for price in self.written.prices:
            channels = [channel.name for channel in self.house.channels]
            if name := self.of_house(price.channel.text, channels, price.channel.anchor, "channel", "channels"):
                yield ListPrice(name, price.money, price.taxed)

    # --- stores and files

    def packaging(self) -> Iterator[PackagingLine]:
        """Packaging lines whose item is packaging."""
        shelf = self.room.shelf
        for line in self.written.packaging:
            name = line.name.text
            named = shelf.names.find(name)
            if named is None and name.partition(" ")[0].lower() in ("piece", "pieces"):
                name = name.partition(" ")[2]
                named = shelf.names.find(name)
            item = shelf.stores.get(named.target.id) if named and isinstance(named.target, StoresRef) else None
            if item and item.kind is StoresKind.PACKAGING:
                yield PackagingLine(StoresRef(item.id), line.count, line.per, line.name.anchor)
                continue
            if named and named.target is None:
                continue
            known = [each.id for each in shelf.stores.values() if each.kind is StoresKind.PACKAGING]
            fix = did_you_mean(name, known) or "add it to the stores with `kind: packaging`"
            if item:
                fix = f"if it is packaging, add `kind: packaging` to '{item.id}' in {item.anchor.document}"
            self.texts.report("unknown-packaging", line.name.anchor, fix=fix, name=name)

    def photo(self) -> str:
        """The picture's path from the book's folder; nothing where the file is missing."""
        written = self.written.photo
        if written is None:
            return ""
        path = written.text.replace("\\", "/").removeprefix("./")
        if path in self.room.files:
            return path
        pictures = [
            name for name in sorted(self.room.files) if name.lower().endswith((".jpg", ".jpeg", ".png", ".webp"))
        ]
        fix = did_you_mean(path, pictures) or "put the picture into the book's images/ folder, or take the line out"
        self.texts.report("photo-missing", written.anchor, fix=fix, path=path)
        return ""

    def named(self, stages: Sequence[Stage]) -> None:
        """Report what is named and nearly, but not quite, goes in. Groups (`nuts`) are taken as they are."""
        lines = [line for stage in stages for line in stage.lines]
        known = [*(stage.name for stage in stages if stage.name), *(line.name for line in lines)]
        items = [line.target.id for line in lines if isinstance(line.target, StoresRef)]
        groups = [
            group for item in items if item in self.room.shelf.stores for group in self.room.shelf.stores[item].groups
        ]
        good = {fold(name) for name in (*known, *groups)}
        for words in self.written.named:
            if fold(words.text) in good or self.room.shelf.names.find(words.text):
                continue
            if fix := did_you_mean(words.text, known):
                self.texts.report("unknown-named", words.anchor, fix=fix, name=words.text)

    def claims(self) -> None:
        """Report what clients would read although the house forbids to claim it."""
        written, client = self.written, self.written.client
        if written.kind is not Kind.PRODUCT:
            return
        texts = (("title", written.title.text), ("sold as", client.sold_as), ("describe", client.describe))
        for key, text in (*texts, ("serve", client.serve)):
            for claim in self.house.forbid_claims:
                if f" {_bare(claim)} " in f" {_bare(text)} ":
                    self.texts.report("claim-forbidden", written.top.at(key), claim=claim)

    def links(self) -> None:
        """Report links that lead to no recipe."""
        for link in self.written.links:
            if link.path not in self.room.documents:
                fix = self.nearest(link.path, self.written.document)
                self.texts.report("broken-link", link.anchor, fix=fix, written=link.written)

    def nearest(self, path: str, source: str) -> str:
        """Advice for a link from `source` that leads nowhere."""
        return link_advice(path, source, self.room.documents)

    # --- cautions and the method

    def cautions(self, written: Iterable[Words]) -> tuple[str, ...]:
        """The cautions that exist, in their own spelling."""
        return tuple(found for words in written if (found := self.caution(words.text, words.anchor)))

    def caution(self, name: str, anchor: Anchor) -> str:
        """A caution's own spelling, or nothing where there is none of that name."""
        found = next((each for each in self.room.cautions if fold(each) == fold(name)), "")
        if not found:
            fix = did_you_mean(name, self.room.cautions) or "add it to cautions.yaml with its hazard and what to do"
            self.texts.report("unknown-caution", anchor, fix=fix, name=name)
        return found

    def topics(self) -> tuple[str, ...]:
        """The topics that the workbook knows, or the glossary explains, in their own spelling."""
        spelt = {fold(topic): topic for topic in TOPICS}
        found = []
        for words in self.written.topics:
            known = spelt.get(fold(words.text)) or self.room.terms.get(fold(words.text))
            if known:
                found.append(known)
                continue
            fix = did_you_mean(words.text, (*TOPICS, *self.room.terms)) or (
                f"write one of: {', '.join(TOPICS)}; or explain '{words.text}' in glossary.md"
            )
            self.texts.report("unknown-word", words.anchor, fix=fix, what="topic", word=words.text)
        return tuple(dict.fromkeys(found))

    def method(self, stages: Sequence[Stage], same: Callable[[str, Line], bool], *, complete: bool) -> Method:
        """The method with the names in its steps and notes bound. `same` says whether a name means a line."""
        method = self.written.method
        sections = tuple(
            Section(section.heading, tuple(self._step(step, stages, same, complete) for step in section.steps))
            for section in method.sections
        )
        notes = tuple(
            replace(note, name=self.caution(note.name, self.written.top.at(NOTES, index)))
            if note.kind is NoteKind.CAUTION
            else note
            for index, note in enumerate(method.notes)
        )
        kept = tuple(note for note in notes if note.name or note.kind is not NoteKind.CAUTION)
        return replace(method, sections=sections, notes=kept)

    def _step(self, step: Step, stages: Sequence[Stage], same: Callable[[str, Line], bool], complete: bool) -> Step:
        on = step.on
        if on and self.house.equipment:
            known = [each.name for each in self.house.equipment]
            on = self.of_house(on, known, step.anchor.at("on"), "piece of equipment", "equipment") or on
        at = step.anchor
        self._setting(step, on)
        named = [(name, at.at("caution", index)) for index, name in enumerate(step.cautions)]
        cautions = tuple(found for name, anchor in named if (found := self.caution(name, anchor)))
        uses = tuple(
            self._use(name, at.at("uses", index), stages, same, complete) for index, name in enumerate(step.uses)
        )
        if (on, cautions, uses) == (step.on, step.cautions, step.uses):
            return step
        return replace(step, on=on, cautions=cautions, uses=uses)

    def _setting(self, step: Step, on: str) -> None:
        """Report a setting to which a machine of that kind is hardly set, and a limit that the end point misses."""
        machine = next((each for each in self.house.equipment if each.name == on), None)
        if machine and step.at:
            said, fix = unlikely_setting(step.at.text, machine.kind)
            if said:
                self.texts.report(
                    "unlikely-setting", step.anchor.at("at"), fix=fix, said=said, name=on, kind=machine.kind
                )
        if step.to and step.limit and misses_limit(step.to.text, step.limit.text):
            at = step.anchor.at("limit")
            self.texts.report("limit-beyond-end-point", at, to=step.to.text, limit=step.limit.text)
        if step.limit and not step.limit.if_missed:
            self.texts.report("limit-without-remedy", step.anchor.at("limit"))

    def _use(
        self, name: str, anchor: Anchor, stages: Sequence[Stage], same: Callable[[str, Line], bool], complete: bool
    ) -> str:
        """The stage's or line's own spelling of what a step says it uses."""
        for stage in stages:
            if stage.name and fold(stage.name) == fold(name):
                return stage.name
        for stage in stages:
            for line in stage.lines:
                if same(name, line):
                    return line.name
        if complete:
            self.texts.report("unknown-use", anchor, fix=formula_advice(name, stages), name=name)
        return name

    def layers(self, stages: Sequence[Stage], sized: Callable[[Target], Target], *, complete: bool) -> Iterator[Layer]:
        """The layers with what they are made of."""
        for written in self.written.layers:
            if complete:
                for words in (written.name, *written.holds):
                    self._layer_name(words, stages)
            yield self._layer(written, sized)

    def _layer(self, written: WrittenLayer, sized: Callable[[Target], Target]) -> Layer:
        named = self.room.shelf.names.find(written.name.text)
        target = sized(named.target) if named and named.target else None
        holds = tuple(words.text for words in written.holds)
        return Layer(written.name.text, target, written.shape, written.thickness, holds, written.coats)

    def _layer_name(self, words: Words, stages: Sequence[Stage]) -> None:
        known = {fold(stage.name) for stage in stages} | {fold(line.name) for stage in stages for line in stage.lines}
        if fold(words.text) not in known and self.room.shelf.names.find(words.text) is None:
            self.texts.report("unknown-layer", words.anchor, fix=formula_advice(words.text, stages), name=words.text)


def formula_advice(name: str, stages: Sequence[Stage]) -> str:
    """Advice for a name that should be a line or stage of the formula."""
    known = [*(stage.name for stage in stages if stage.name), *(line.name for stage in stages for line in stage.lines)]
    return did_you_mean(name, known) or "name a line or a stage of the formula"


def link_advice(path: str, source: str, documents: Iterable[str]) -> str:
    """Which of the book's recipe files a link from `source` was probably meant to lead to."""
    wanted = path if path.endswith(".md") else f"{path}.md"
    known = sorted(documents)
    stems = {document.rpartition("/")[2]: document for document in known}
    if wanted in known:
        found = [wanted]
    else:
        found = [stems[stem] for stem in near(wanted.rpartition("/")[2], stems)] or list(near(wanted, known))
    return f"did you mean {relative(found[0], source)}?" if found else "link to the .md file of a recipe"


def relative(document: str, source: str) -> str:
    """The path to one document from another's folder."""
    here, there = source.split("/")[:-1], document.split("/")
    common = 0
    while common < min(len(here), len(there) - 1) and here[common] == there[common]:
        common += 1
    return "/".join([".."] * (len(here) - common) + there[common:])


def _bare(text: str) -> str:
    """The words alone: `Gluten-free` claims what `gluten free` does."""
    return " ".join(re.findall(r"\w+", text.casefold()))
