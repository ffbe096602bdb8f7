"""Product sheets: one page per released product for those who buy it, and nothing that is the house's own affair."""
