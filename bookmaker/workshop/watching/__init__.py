"""`watch`: the book is built again whenever something of it changes, and open pages follow."""
