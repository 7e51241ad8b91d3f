"""What is kept beside a project: demonstrations, timed runs, papers handed out."""
