"""A written recipe bound to its book: every name an id, every amount grams, pieces, sheets or percent."""

from dataclasses import dataclass, replace
from decimal import Decimal

from bookmaker.measures.exact import HUNDRED, total
from bookmaker.model.line import Line, Percent, Rest, Stage, Unmeasured
from bookmaker.model.recipe import Base, BaseKind, Kind, Recipe
from bookmaker.model.refs import CoProductRef, RecipeRef, StoresRef, Target
from bookmaker.model.stores import StoresKind
from bookmaker.model.written.line import Words, WrittenLine
from bookmaker.model.written.recipe import WrittenRecipe
from bookmaker.problems.anchors import Anchor
from bookmaker.problems.problem import Problem, Related
from bookmaker.reading.furnishing import Furnishing, Room
from bookmaker.reading.quantities import meant, quantity
from bookmaker.reading.suggest import did_you_mean, fold, near
from bookmaker.reading.texts import Texts

ROUNDED = Decimal("0.5")
"""How far rounded percentages of the whole may miss 100."""


@dataclass(frozen=True, slots=True)
class Bound:
    """A recipe bound as far as it can be.

    `complete` is false when a line or the yield is missing, so that nothing should be computed from it.
    """

    recipe: Recipe | None
    complete: bool
    problems: tuple[Problem, ...]


def bind(written: WrittenRecipe, room: Room) -> Bound:
    """Bind one recipe in one size."""
    binder = _Binder(written, room)
    recipe = binder.recipe()
    return Bound(recipe, written.sound and binder.complete, tuple(binder.texts.problems))


class _Binder:
    def __init__(self, written: WrittenRecipe, room: Room) -> None:
        self.written = written
        self.shelf = room.shelf
        self.texts = Texts(written.document)
        self.furnishing = Furnishing(written, room, self.texts)
        self.complete = True

    def recipe(self) -> Recipe | None:
        written, room = self.written, self.furnishing
        stages = self._stages()
        yields = room.yields()
        base = self._base(stages)
        self._check_percents(stages)
        method = room.method(stages, self._same, complete=self.complete)
        layers = tuple(room.layers(stages, self._sized, complete=self.complete))
        packaging, prices = tuple(room.packaging()), tuple(room.prices())
        cautions, labour_role, photo = room.cautions(written.cautions), room.labour_role(), room.photo()
        topics = room.topics()
        room.named(stages)
        room.claims()
        room.links()
        if yields is None:
            self.complete = False
            return None
        return Recipe(
            ref=RecipeRef(written.id, written.size),
            title=written.title.text,
            section=written.section,
            kind=written.kind,
            yields=yields,
            stages=stages,
            base=base,
            status=written.status,
            code=written.code.text if written.code else "",
            revision=written.revision,
            revised=written.revised,
            tags=tuple(words.text for words in written.tags),
            aka=tuple(words.text for words in written.aka),
            batch=written.batch,
            losses=written.losses,
            tray=written.tray,
            keep_back=written.keep_back,
            boil_to=written.boil_to,
            cut=written.cut,
            gives=written.gives,
            make=written.make,
            layers=layers,
            packaging=packaging,
            density=written.density,
            dough_temperature=written.dough_temperature,
            labour_role=labour_role,
            portion=written.portion,
            servings=written.servings,
            prices=prices,
            client=written.client,
            keeps=written.keeps,
            cautions=cautions,
            teaching=replace(written.teaching, topics=topics) if topics else written.teaching,
            photo=photo,
            photo_text=written.photo_text,
            method=method,
            anchor=written.top,
        )

    # --- the formula

    def _stages(self) -> tuple[Stage, ...]:
        stages, number = [], 0
        for stage in self.written.stages:
            lines = []
            for written in stage.lines:
                number += 1
                if line := self._line(written, str(number)):
                    lines.append(line)
                else:
                    self.complete = False
            stages.append(Stage(stage.name, tuple(lines), stage.losses, stage.kind))
        return tuple(stages)

    def _line(self, written: WrittenLine, number: str) -> Line | None:
        what = meant(written, self.shelf)
        if what is None:
            self._unknown(written)
            return None
        target = what.named.target
        if target is None:
            return None
        target = self._sized(target)
        if not self._may_use(target, what.anchor, what.name):
            return None
        taken = quantity(written, what, self.shelf, self.texts)
        if taken is None:
            return None
        if written.said.as_bought and not isinstance(target, StoresRef):
            self.texts.report("as-bought-recipe", what.anchor, name=what.name)
        return Line(
            id=number,
            name=what.name,
            target=target,
            quantity=taken.quantity,
            times=written.said.times,
            preparation=written.said.preparation,
            as_bought=written.said.as_bought,
            as_needed=written.said.as_needed,
            low=taken.low,
            high=taken.high,
            stays=written.stays,
            stays_grams=written.stays_grams,
            rest=written.rest or Rest.WASTE,
            working=written.working,
            loss=written.loss or Decimal(0),
            optional=bool(written.optional),
            alternatives=self._alternatives(written.alternatives),
            at_most=written.at_most,
            note=written.note,
            anchor=written.anchor,
        )

    def _unknown(self, written: WrittenLine) -> None:
        name = written.said.name
        fix = self.shelf.names.suggest(name)
        # `500 g flour, strong white`: the comma has cut a name in two
        if written.said.preparation and (whole := near(f"{written.said.preparation} {name}", self._all_names())):
            fix = f"did you mean '{whole[0]}'? A name contains no comma"
        fix = fix or "add it to the stores, or write the recipe's title as it stands there"
        self.texts.report("unknown-name", written.name_anchor, fix=fix, name=name)

    def _all_names(self) -> list[str]:
        return [named.spelt for named in self.shelf.names.named.values()]

    def _sized(self, target: Target) -> Target:
        """A component without a size, in this recipe's own size if it comes in it."""
        if isinstance(target, RecipeRef) and self.written.size and not target.size:
            same = RecipeRef(target.id, self.written.size)
            return same if same in self.shelf.recipes else target
        return target

    def _may_use(self, target: Target, anchor: Anchor, name: str) -> bool:
        """Food is not made from packaging or moulding materials."""
        food = self.written.kind is not Kind.MOULDING
        match target:
            case StoresRef(item):
                found = self.shelf.stores[item]
                related = [Related(found.anchor, f"kind: {found.kind}")]
                if found.kind is StoresKind.PACKAGING:
                    self.texts.report("packaging-in-formula", anchor, related=related, name=name)
                    return False
                if found.kind is StoresKind.MOULDING and food:
                    self.texts.report("moulding-in-food", anchor, related=related, name=name)
                    return False
            case RecipeRef() | CoProductRef():
                ref = target if isinstance(target, RecipeRef) else target.recipe
                component = self.shelf.recipe(ref)
                if component and component.kind is Kind.MOULDING and food:
                    related = [Related(component.top.at("kind"), "kind: moulding")]
                    self.texts.report("moulding-in-food", anchor, related=related, name=name)
                    return False
        return True

    def _check_percents(self, stages: tuple[Stage, ...]) -> None:
        """Percentages without a base are of the whole, so they must come to it."""
        lines = [line.quantity for stage in stages for line in stage.lines if not isinstance(line.quantity, Unmeasured)]
        percents = [quantity.percent for quantity in lines if isinstance(quantity, Percent)]
        usual = self.written.kind in (Kind.PREFERMENT, Kind.SOAKER)
        if self.written.base or usual or not percents or len(percents) != len(lines) or not self.complete:
            return
        if abs(total(percents) - HUNDRED) > ROUNDED:
            at = self.written.lines[0].amount_anchor
            self.texts.report("percent-without-base", at, sum=f"{total(percents).normalize():f}")
            self.complete = False

    def _same(self, name: str, line: Line) -> bool:
        """Whether a name in the method means this line."""
        named = self.shelf.names.find(name)
        return fold(line.name) == fold(name) or bool(
            named and named.target and self._sized(named.target) == line.target
        )

    def _alternatives(self, written: tuple[Words, ...]) -> tuple[Target, ...]:
        found = []
        for words in written:
            named = self.shelf.names.find(words.text)
            if named is None:
                self.texts.report(
                    "unknown-name", words.anchor, fix=self.shelf.names.suggest(words.text), name=words.text
                )
            elif named.target is not None and self._may_use(named.target, words.anchor, words.text):
                found.append(self._sized(named.target))
        return tuple(found)

    def _base(self, stages: tuple[Stage, ...]) -> Base:
        """What is 100 %. Whether it stands in the formula is for the kitchen to say, which knows what it weighs."""
        written = self.written.base
        lines = [line for stage in stages for line in stage.lines]
        if written is None:
            flour = any(
                isinstance(line.target, StoresRef) and self.shelf.stores[line.target.id].flour for line in lines
            )
            usual = self.written.kind in (Kind.PREFERMENT, Kind.SOAKER) and flour
            return Base(BaseKind.FLOUR if usual else BaseKind.TOTAL)
        if fold(written.text) in ("flour", "flours"):
            return Base(BaseKind.FLOUR)
        named = self.shelf.names.find(written.text)
        if named is None and fold(written.text) != "total":
            known = [*(line.name for line in lines), "flour", "total"]
            fix = did_you_mean(written.text, known) or "write `flour`, `total`, or a name of the formula"
            self.texts.report("unknown-base", written.anchor, name=written.text, fix=fix)
        return Base(BaseKind.ITEM, named.target) if named and named.target else Base(BaseKind.TOTAL)
