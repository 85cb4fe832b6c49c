"""The schedule of a job: its tasks on the half hours of people, day after day. Pure.

    tasks of a scope -> steps (`steps`)      one task in one room, or a part of it: furniture out
    steps + crew     -> days (`choosing`)    the best of several orders, day after day (`planning`)
    `search`                                 better orders near the best of those, and what is good
    `bench`                                  who does what on which half hour of a day
    `priority`                               in which order a lead goes through a house
    `lived_in`                               which rooms may be opened on a day: nobody's bed away
    `network`, `limited`                     critical path and slack; the least a crew takes

A *half* is half an hour of one person. A task takes its exact hours rounded up to halves; steps of
one task share them. Time is counted in quarters of an hour from the midnight before the first day.
A *stop* is where a day may leave off: after a whole row, or when what was torn out is hauled away.
"""
