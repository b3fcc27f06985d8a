"""What several tests share: strategies, assertions, readers."""
