"""The commands. Each imports the floors it needs when it runs, so that `--help` costs nothing."""

import argparse
import sys
from collections.abc import Sequence
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from bookmaker import __version__

if TYPE_CHECKING:
    from bookmaker.workshop.building import Edition

OK, PROBLEMS, USAGE, STOPPED = 0, 1, 2, 130

EDITIONS = ("team", "book", "record", "cards", "workbook", "sheets", "labels")
"""What `--only` takes, in the order made: each has a module in `bookmaker/workshop/making`."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code: 0, 1 for problems in the book, 2 for usage."""
    asked = _parser().parse_args(arguments)
    try:
        code: int = asked.run(asked)
    except KeyboardInterrupt:
        print("\nstopped; what was published before is untouched", file=sys.stderr)
        return STOPPED
    except BrokenPipeError:  # the reader of our pipe has seen enough
        sys.stderr.close()
        return OK
    return code


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="bookmaker",
        description="A folder of recipes in plain text becomes the house's costed, scalable recipe book.",
        epilog="BOOK is a folder with a house.yaml: the nearest one above, else recipes/, where none is named.",
    )
    parser.add_argument("--version", action="version", version=f"bookmaker {__version__}")
    commands = parser.add_subparsers(title="commands", metavar="COMMAND", required=True)
    add_all = (
        *(_add_build, _add_watch, _add_check),
        *(_add_weigh, _add_cost, _add_label, _add_explain),
        *(_add_issue, _add_start),
    )
    for add in add_all:
        add(commands)
    return parser


def _command(
    commands: "argparse._SubParsersAction[argparse.ArgumentParser]", name: str, does: str, about: str
) -> argparse.ArgumentParser:
    return commands.add_parser(name, help=does, description=about, formatter_class=argparse.RawDescriptionHelpFormatter)


def _takes_date(parser: argparse.ArgumentParser, what: str = "costing date") -> None:
    parser.add_argument("--on", metavar="DATE", help=f"{what}, as 2026-11-30 (default: today)")


def _takes_json(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--json", action="store_true", help="print for a machine")


def _takes_recipe(parser: argparse.ArgumentParser, *, optional: bool = False) -> None:
    parser.add_argument(
        "recipe",
        metavar="RECIPE",
        nargs="?" if optional else None,
        help="a title, another name, or a code of the house",
    )
    parser.add_argument("--book", metavar="BOOK", help="the book's folder")


def _add_build(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    about = """Read the book, compute every figure, publish the editions.

Errors in the book stop publishing; what was published before stays as it is."""
    parser = _command(commands, "build", "publish the book", about)
    parser.add_argument("book", metavar="BOOK", nargs="?", help="the book's folder")
    parser.add_argument(
        "--only", metavar="EDITION", nargs="+", choices=EDITIONS, help="only these: " + ", ".join(EDITIONS)
    )
    parser.add_argument("--out", metavar="DIR", default="build", help="output folder (default: build)")
    parser.add_argument("--fresh", action="store_true", help="write every file anew, also those that have not changed")
    _takes_date(parser)
    parser.set_defaults(run=_build)


def _add_watch(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    about = """Build the book, serve it on this machine, and build again whenever something of it changes.

Open pages follow by themselves; problems stand over the last good page until they are mended."""
    parser = _command(commands, "watch", "build again at every change, and show it", about)
    parser.add_argument("book", metavar="BOOK", nargs="?", help="the book's folder")
    parser.add_argument(
        "--only",
        metavar="EDITION",
        nargs="+",
        choices=EDITIONS,
        default=["team"],
        help="these editions (default: team)",
    )
    parser.add_argument("--out", metavar="DIR", default="build", help="output folder (default: build)")
    parser.add_argument(
        "--port", metavar="PORT", type=int, help="where to serve the pages (default: 8126, or a free one)"
    )
    _takes_date(parser)
    parser.set_defaults(run=_watch)


def _add_check(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    about = """Read the book and report everything that is wrong with it, and what its recipes still lack.

With --cards or --labels: what was issued, held against what the book says now."""
    parser = _command(commands, "check", "report what is wrong, without publishing", about)
    parser.add_argument("book", metavar="BOOK", nargs="?", help="the book's folder")
    parser.add_argument(
        "--cards", action="store_true", help="the bench cards in use: which to print again, and why; which to take away"
    )
    parser.add_argument(
        "--labels", action="store_true", help="the labels handed out: which to send again, and why; which to take back"
    )
    _takes_json(parser)
    _takes_date(parser)
    parser.set_defaults(run=_check)


def _add_weigh(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    about = """Scale a recipe through all its components: what to weigh, how many batches, what is left over.

TARGET is one of   130 pieces · 12 kg · 3 batches · 4 moulds · 2 sheets · use up 2.5 kg butter"""
    parser = _command(commands, "weigh", "scale a recipe to a target", about)
    _takes_recipe(parser)
    parser.add_argument(
        "--for", dest="target", metavar="TARGET", default="1 batch", help="how much is wanted (default: 1 batch)"
    )
    _takes_json(parser)
    _takes_date(parser)
    parser.set_defaults(run=_weigh)


def _add_cost(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    about = """What a recipe costs and must sell for; without RECIPE, one line per product.

--for costs an order as it is really made, left-overs apart:   --for "130 pieces"
--if asks what a price change would do:   --if "unsalted butter: +12 %"   --if "flower honey: -2 EUR" (a pack)"""
    parser = _command(commands, "cost", "what it costs and must sell for", about)
    _takes_recipe(parser, optional=True)
    parser.add_argument("--for", dest="target", metavar="TARGET", help="cost an order of that much, as weigh takes it")
    parser.add_argument(
        "--if", dest="changes", metavar="CHANGE", action="append", default=[], help="a price change to try out"
    )
    _takes_json(parser)
    _takes_date(parser)
    parser.set_defaults(run=_cost)


def _add_label(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    about = """What a label says by the law of the house's region: ingredient list, quantities,
allergens, nutrition, diets.

It is calculated from the recipe's data: check it against your local food law
and your suppliers' specifications."""
    parser = _command(commands, "label", "what a label says, as text", about)
    _takes_recipe(parser)
    _takes_json(parser)
    _takes_date(parser)
    parser.set_defaults(run=_label)


def _add_explain(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    about = """Show how a figure came about, down to the price list.

FIGURE is a word such as cost, yield, time, hydration or an allergen; without it, the figures of the recipe are
listed."""
    parser = _command(commands, "explain", "show the working of a figure", about)
    _takes_recipe(parser)
    parser.add_argument("figure", metavar="FIGURE", nargs="?", help="which figure")
    _takes_json(parser)
    _takes_date(parser)
    parser.set_defaults(run=_explain)


def _add_issue(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    about = """Write into the book's register, issued.csv, what is being handed out: the code
of each bench card, or what each label says. Nothing else in the book is
touched; what has not changed since it was issued is left out.

Without RECIPE: all cards, or the labels of all released products; but a label
whose allergens have changed since it was issued has to be named."""
    parser = _command(commands, "issue", "write down what is handed out", about)
    parser.add_argument("what", choices=("cards", "labels"), help="cards, or labels")
    parser.add_argument("recipes", metavar="RECIPE", nargs="*", help="a title, another name, or a code of the house")
    parser.add_argument("--book", metavar="BOOK", help="the book's folder")
    parser.add_argument("--by", metavar="NAME", help="who hands it out (default: who is signed in on this machine)")
    _takes_json(parser)
    _takes_date(parser, "day of issue")
    parser.set_defaults(run=_issue)


def _add_start(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    parser = _command(
        commands,
        "start",
        "begin a new small book",
        "Write a small book that builds into DIR/recipes, to be changed and grown.",
    )
    parser.add_argument("folder", metavar="DIR", help="where the new book goes")
    parser.set_defaults(run=_start)


def _build(asked: argparse.Namespace) -> int:
    only, out = [name for name in EDITIONS if name in (asked.only or EDITIONS)], Path(asked.out)
    if not asked.fresh:
        from bookmaker.workshop.cache.unchanged import nothing_to_do

        code = nothing_to_do(asked.book, out, only=only, on=asked.on)
        if code is not None:
            return code
    from bookmaker.workshop.memory import keep_all, without_collecting

    with without_collecting():  # loading the program makes many values, too
        from bookmaker.workshop.commands import build

        try:
            return build.run(asked.book, out, editions=_editions(only), on=asked.on, fresh=asked.fresh)
        finally:
            keep_all()  # a build is the last thing that its process does


def _watch(asked: argparse.Namespace) -> int:
    from bookmaker.workshop.commands import watch

    only = [name for name in EDITIONS if name in asked.only]
    return watch.run(asked.book, Path(asked.out), editions=_editions(only), on=asked.on, port=asked.port)


def _editions(names: Sequence[str]) -> "list[Edition]":
    """The editions of these names, each from the module that makes it."""
    return [import_module(f"bookmaker.workshop.making.{name}").EDITION for name in names]


def _check(asked: argparse.Namespace) -> int:
    what = [name for name in ("cards", "labels") if getattr(asked, name)]
    if what:
        from bookmaker.workshop.commands import standing

        return standing.run(asked.book, what, on=asked.on, as_json=asked.json)
    from bookmaker.workshop.commands import check

    return check.run(asked.book, on=asked.on, as_json=asked.json)


def _weigh(asked: argparse.Namespace) -> int:
    from bookmaker.workshop.commands import weigh

    return weigh.run(asked.book, asked.recipe, asked.target, on=asked.on, as_json=asked.json)


def _cost(asked: argparse.Namespace) -> int:
    from bookmaker.workshop.commands import cost

    return cost.run(
        asked.book, asked.recipe, target=asked.target, changes=asked.changes, on=asked.on, as_json=asked.json
    )


def _label(asked: argparse.Namespace) -> int:
    from bookmaker.workshop.commands import label

    return label.run(asked.book, asked.recipe, on=asked.on, as_json=asked.json)


def _explain(asked: argparse.Namespace) -> int:
    from bookmaker.workshop.commands import explain

    return explain.run(asked.book, asked.recipe, asked.figure, on=asked.on, as_json=asked.json)


def _issue(asked: argparse.Namespace) -> int:
    from bookmaker.workshop.commands import issue

    return issue.run(asked.what, asked.recipes, named=asked.book, by=asked.by, on=asked.on, as_json=asked.json)


def _start(asked: argparse.Namespace) -> int:
    from bookmaker.workshop.commands import start

    return start.run(Path(asked.folder))
