"""Long runs over random floors, seeded and sized by argument; no clock decides in them."""
