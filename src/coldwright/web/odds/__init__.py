"""The odds of a job with reasons and next checks."""
