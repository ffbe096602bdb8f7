"""The cache: what the last build came to, so that the next one does only what has changed since.

In reading order: `store` is the one file behind it, by key; `packing` turns values into bytes and digests; `ledger` is
the last build, entry by entry. `notes` write down what a computation looks up, which says all that it depends on.
`library`, `larder`, `binding` and `figuring` are reading and kitchen again, each unit done anew only where it must be;
`kept` is the book that comes of it. `projecting`, `items`, `cardbox` and `photos` do the same for the team book's
pages, which `team` lists, each with what it is made from. `stamp` says which tool it all was made with, and `unchanged`
whether a build has anything to do at all.
"""
