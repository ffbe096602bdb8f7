"""Label sheets: a label for every released product, printed by the house on the label paper that it buys."""
