"""Publishing: an edition's files go into the output folder as one transaction, and nobody else's file is touched.

In reading order: `disk` is all that we do to a file system. `sealed` files can tell that they are whole; the
`manifest` is one, what an edition published last. `staging` takes the new content in beside the published files and
finds out what has to change. That is written into the `journal`: from then on the publication can be completed, or
taken back, by whoever comes next. `changeover` does both, file by file. `publisher` leads through it, one at a time
by the `lock`; `refusals` are the reasons for which it stops.
"""
