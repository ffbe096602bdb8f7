"""The workshop: the only floor that touches the outside. Disk, clock, terminal, publishing."""
