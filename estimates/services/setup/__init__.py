"""What the owner sets up once: letterhead, logo, terms, notices."""
