"""What the layout core is asked and answers: lengths, outlines, boards, requests, plans."""
