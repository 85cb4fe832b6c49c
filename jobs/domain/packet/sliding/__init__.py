"""What is slid: pieces that can't be tilted in, and a stick whose wall is out."""
