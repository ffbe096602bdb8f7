"""What the trade's things are: recipes, lines, steps, stores, prices, the house, and the book that holds them.

Everything here is a frozen value. Names are bound to ids, never to objects, so a book pickles and compares cheaply.
"""
