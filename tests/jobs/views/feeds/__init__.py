"""The page of calendar links, and the calendar that a link opens."""
