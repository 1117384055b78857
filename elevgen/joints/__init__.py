"""Movement joints: where they may go, where they must, and how wide they are."""
