"""Write golden pages anew, to be looked at and committed: `python -m tests.press.golden`."""

from bookmaker.editions.sheets import project
from bookmaker.press.sheets.site import SheetPress
from bookmaker.press.site import render_team
from tests.press.test_sheets import SHEETS
from tests.press.test_site import GOLDEN, spoken
from tests.support.published import LEDGER, TINY, sound_book, team_site
from tests.support.sheets import CLIENTS, house_of, sheets

if __name__ == "__main__":
    files = dict(render_team(team_site(sound_book(TINY)), [LEDGER]))
    GOLDEN.mkdir(exist_ok=True)
    for name in ("index", "recipes/moulded/pebble", "recipes/moulded/pepper-pebble", "recipes/moulded/old-pebble",
                 "stores/unsalted-butter", "allergens", "costs"):  # fmt: skip
        text = spoken(files[f"{name}.html"].decode("utf-8"))
        (GOLDEN / f"{name.replace('/', '-')}.txt").write_text(text, encoding="utf-8")
    clients = sound_book(CLIENTS)
    press, views = SheetPress(project.frame(house_of(clients)), (LEDGER,)), sheets(clients)
    for name, ref in SHEETS.items():
        (GOLDEN / f"sheet-{name}.txt").write_text(spoken(press.sheet(views[ref]).decode("utf-8")), encoding="utf-8")
