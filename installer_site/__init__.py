"""The site: settings, addresses, health. Nothing imports it."""
