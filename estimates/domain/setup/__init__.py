"""What a company says once, and every quote of it carries: letterhead, terms, numbering."""
