package jigplan

import (
	"time"

	"batchwright/nesting"
)

// Place is where work is done.
type Place string

// Places of a shop. Work at the clamps and at the finish is also bench work
// while somebody attends to it.
const (
	AtSaw    Place = "saw"
	AtBench  Place = "bench"
	AtClamps Place = "clamps"
	AtFinish Place = "finish"
)

// Task is one piece of work of a job. It takes one person.
type Task struct {
	ID      string // unique: "12/glue 3"
	Job     string // Job.ID
	What    string // "glue 3 boxes of Tray"
	Place   Place
	Minutes int    // attended
	Whole   bool   // may not pause over a break: a glue-up
	Wait    int    // minutes of cure or drying before what comes after it, unattended
	Hold    int    // minutes its clamps and places stay taken after it
	Clamps  int    // taken from its start until somebody is there after the hold
	Space   int    // drying places, likewise
	Boxes   int    // it works on
	Box     string // the box line of the order they are of; empty: more than one, or none
	Setup   string // state of the saw; equal texts need no changeover
	After   []string
	Pinned  time.Time // it starts then; zero: when it is best
	Release time.Time // it does not start before: its wood has come and is dry; zero: at any time
	Due     time.Time // the date of its boxes; zero: the job's
}

// Job is an accepted order with its remaining work.
type Job struct {
	ID     string
	Name   string
	Due    time.Time // the end of that day, the first of its dates; zero: no date
	Weight int       // how much a day late matters; 0 counts as 1
	Tasks  []Task
	Held   []Held
}

// Held is clamps and drying places that finished work still takes.
type Held struct {
	Clamps, Space int
	Until         time.Time
}

// Logged is work of a job that was done: one end of a stack, or an element.
type Logged struct {
	At      time.Time // when it was noted, by the clock of the schedule
	Element string    // "Glue-up"; of a stack end: any
	Stack   string    // empty: the element
	Count   float64   // how often: boxes glued, coats put on; 0: nothing is finished
}

// HalfDay is a stretch of hours without a break, and who is there.
type HalfDay struct {
	From, To time.Time
	People   int
}

// Booking is a task on the clock.
type Booking struct {
	Task
	Start, End time.Time // of the attended work, pauses included
	Ready      time.Time // when its wait is over; what comes after it starts when somebody is there
	Free       time.Time // when its clamps and places are free; End when it holds none
	Latest     time.Time // the last moment to start it without a date being missed; zero: none or too late
}

// Finish is when the boxes of a job that are due on one date are done.
type Finish struct {
	Job      string
	Due      time.Time // zero: no date
	Done     time.Time
	DaysLate int
	Slack    time.Duration // from Done to Due; negative when late
	Decide   time.Time     // the last moment its next task can start with the date kept; zero: no date, or too late
}

// Evening is one night of clamps.
type Evening struct {
	Day    time.Time
	Clamps int // in use over night
}

// Schedule is work on the clock.
type Schedule struct {
	Halves   []HalfDay // the calendar it was made for
	Bookings []Booking // by start
	Finishes []Finish  // one a job and date, by date
	Evenings []Evening // up to the last glue-up

	LateWeight   int          // sum over jobs and their dates of weight times days late
	LateBound    int          // proven: no schedule is below
	BoundBy      []string     // what does not allow less: "the saw"; empty: the waits of each job alone
	FullEvenings int          // with no clamps left over for another box
	Setups       int          // changes of the saw's state, the first included
	Proven       bool         // no schedule is less late
	Stop         nesting.Stop // why the search ended
	Moved        []string     // ids of pinned tasks that could not keep their time
	Unplaced     []string     // ids of tasks the calendar has no room for
}
