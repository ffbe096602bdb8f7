"""Product sheets set: pages, one PDF each, one of all, and what each page says to machines."""
