"""The kinds of exercise, one module each: a `NAME` and a pure `make`. `every` lists them; names stand in the model."""
