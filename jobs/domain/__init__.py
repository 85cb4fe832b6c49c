"""The arithmetic of jobs: pure, handed everything it needs.

job             work at one site for one client, from the first visit to the last log
room            what was typed of it, wall after wall, and the outline drawn from that
side            a straight piece of a room's outline; a bowed wall is several, a cabinet none
thing           an obstacle, what the floor goes round; clear of the walls it is a hole (so in forms
                and stored keys), against a wall it is cut out
opening         a gap in a wall: a doorway as either room sees it, with or without a door
treatment       what the floor does in an opening: carried through, or ended under a strip
transition      the strip that ends a floor there; it has a track or another fixing
trim            base and shoe; a run is a stretch of wall that carries it, between two ends
stick           a stock length of trim or profile as it is bought, cut into runs
floor, zone     rooms and the openings between them in one product, laid as one sheet
plan            every plank of a floor, frozen beside the request that it answers
fitness         whether a product may lie in its place: faults stop it, notes say what is open
quantity        so much of one thing, with how it was got: material, work or fact
driver          the quantity that the hours of a task grow with
rate            man-hours for so many units of a driver, from practice or from the log
task            work of one kind in one floor or the whole job, and what it waits for
caution         what a site asks for; a hold is one that blocks tasks until it is cleared
scope           floors, quantities and tasks of a job, frozen; the agreed one is worked from
days            the tasks of a scope laid onto the working days of a crew
packet          the crew's paper for a job, frozen as it was issued, without a price
log             what was worked, laid and spoiled on a day, by whom
errand          a piece of background work, such as planning a floor or printing a packet
document        a frozen text with its digest; its form may change, the text never does
"""
