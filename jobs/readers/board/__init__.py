"""The crew board, read in as many queries for many crews, jobs and days as for one."""
