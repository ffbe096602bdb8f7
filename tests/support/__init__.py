"""What tests share to look at published pages: a browser, the Nu HTML checker, a link checker."""
