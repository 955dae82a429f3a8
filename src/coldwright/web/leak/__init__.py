"""The leak search of a job."""
