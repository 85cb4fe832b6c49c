"""Production rates as the office reads them: where each comes from, since when, and what it was."""
