"""The arithmetic of money: pure."""
