"""Pictures of what is measured and bought: depths, moisture, a stair, trim runs, cartons."""
