"""The workbook's pages, on screen and on paper."""
