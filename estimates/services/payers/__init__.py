"""What a payer agreed to pay, and trips that their material makes us drive."""
