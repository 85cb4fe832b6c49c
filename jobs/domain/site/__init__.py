"""What a visit finds: facts, cautions, moisture, levels."""
