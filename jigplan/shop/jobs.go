package shop

import (
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"batchwright/orders/measure"
)

// JobState is where a job stands.
type JobState string

// A job is open until it is finished or cancelled, or until the date passes
// after which its reservation lapses.
const (
	JobOpen      JobState = "open"
	JobFinished  JobState = "finished"
	JobCancelled JobState = "cancelled"
	JobLapsed    JobState = "lapsed"
)

// Job is one accepted order.
type Job struct {
	ID       int64
	Name     string // the order's file name
	Customer string
	State    JobState
	Due      time.Time // zero: no date
	Held     time.Time // the reservation lapses after this day; zero: never
	Accepted time.Time
	Closed   time.Time // zero: open
	Revision int       // the latest
	Repeats  int64     // the job it repeats; 0: none
	Note     string
}

// Revision is what was agreed at one time.
type Revision struct {
	Job     int64
	Number  int
	At      time.Time
	Kind    RevisionKind
	File    string
	SHA256  string // of the order file
	Profile int    // version of the jig profile it was planned with
	Boxes   int
	Parts   int
	Feet    float64 // board feet
	Cost    measure.Money
	Price   measure.Money // of all boxes, as the order says; 0: it does not
	Minutes float64
	P80     float64
	Boards  []string           // ids of the rack boards the plan cuts
	Factors map[string]float64 // calibration the times were made with
}

// RevisionKind is why a revision was made.
type RevisionKind string

// A change replaces what was accepted before; a recut stands beside it.
const (
	KindAccept RevisionKind = "accept"
	KindChange RevisionKind = "change"
	KindRecut  RevisionKind = "recut"
)

// Papers are what belongs to a revision: the order as it was read, the plan, and
// the workbook as it was printed, each kept to the byte.
type Papers struct{ Order, Plan, Workbook []byte }

// addJob takes an order on as a new open job and gives its id.
func addJob(tx *Tx, j Job, r Revision, p Papers) (int64, error) {
	res, err := tx.Exec(`INSERT INTO jobs (name, customer, state, due, held, accepted, revision, repeats, note) VALUES (?, ?, 'open', ?, ?, ?, 0, NULLIF(?, 0), ?)`,
		j.Name, j.Customer, dateText(j.Due), dateText(j.Held), Time(tx.Now), j.Repeats, j.Note)
	if err != nil {
		return 0, err
	}
	id, err := res.LastInsertId()
	if err != nil {
		return 0, err
	}
	r.Job, r.Kind = id, KindAccept
	_, err = revise(tx, r, p)
	return id, err
}

// revise adds a revision to an open job and gives its number.
func revise(tx *Tx, r Revision, p Papers) (int, error) {
	j, err := OpenJob(tx, r.Job)
	if err != nil {
		return 0, err
	}
	last, err := tx.Last(RevisionOfJob(r.Job), j.Revision)
	if err != nil {
		return 0, err
	}
	r.Number = last + 1
	boards, factors := r.Boards, r.Factors
	if boards == nil {
		boards = []string{}
	}
	list, _ := json.Marshal(boards)
	object, err := json.Marshal(factors)
	if err != nil {
		return 0, err
	}
	_, err = tx.Exec(`INSERT INTO revisions (job, number, at, kind, file, sha256, profile, boxes, parts, feet, cost, price, minutes, p80, boards, factors)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`, r.Job, r.Number, Time(tx.Now), r.Kind, r.File, r.SHA256, r.Profile,
		r.Boxes, r.Parts, r.Feet, int64(r.Cost), int64(r.Price), r.Minutes, r.P80, string(list), string(object))
	if err != nil {
		return 0, err
	}
	for kind, data := range map[string][]byte{"order": p.Order, "plan": p.Plan, "workbook": p.Workbook} {
		if err := putPaper(tx, r.Job, r.Number, kind, data); err != nil {
			return 0, err
		}
	}
	_, err = tx.Exec("UPDATE jobs SET revision = ? WHERE id = ?", r.Number, r.Job)
	return r.Number, err
}

// redate sets what a changed order says of the job itself.
func redate(tx *Tx, j Job) error {
	_, err := tx.Exec("UPDATE jobs SET name = ?, customer = ?, due = ?, held = ? WHERE id = ?", j.Name, j.Customer, dateText(j.Due), dateText(j.Held), j.ID)
	return err
}

// CloseJob ends an open job. Its papers stay: it prints again as it was accepted,
// whatever the program prints by then.
func CloseJob(tx *Tx, id int64, state JobState, note string) error {
	if _, err := OpenJob(tx, id); err != nil {
		return err
	}
	_, err := tx.Exec("UPDATE jobs SET state = ?, closed = ?, note = ? WHERE id = ?", state, Time(tx.Now), note, id)
	return err
}

// ErrNoJob is said of a job that there is not, or that is no longer open.
var ErrNoJob = errors.New("see job list")

// FindJob is one job.
func FindJob(tx *Tx, id int64) (Job, error) {
	found, err := queryJobs(tx, "WHERE id = ?", id)
	if err == nil && len(found) == 0 {
		err = fmt.Errorf("there is no job %d: %w", id, ErrNoJob)
	}
	if err != nil {
		return Job{}, err
	}
	return found[0], nil
}

// OpenJob is one job that must be open.
func OpenJob(tx *Tx, id int64) (Job, error) {
	j, err := FindJob(tx, id)
	if err == nil && j.State != JobOpen {
		err = fmt.Errorf("job %d is %s: %w", id, j.State, ErrNoJob)
	}
	return j, err
}

// Jobs gives all jobs, or those in one state, oldest first.
func Jobs(tx *Tx, state JobState) ([]Job, error) {
	if state == "" {
		return queryJobs(tx, "ORDER BY id")
	}
	return queryJobs(tx, "WHERE state = ? ORDER BY id", state)
}

// OrderTaken lists the open and finished jobs whose order is this file, by its
// name and hash.
func OrderTaken(tx *Tx, name, sha256 string) ([]Job, error) {
	return queryJobs(tx, "WHERE state IN ('open', 'finished') AND name = ? AND id IN (SELECT job FROM revisions WHERE sha256 = ? AND kind <> 'recut') ORDER BY id", name, sha256)
}

// Overdue lists open jobs whose reservation has lapsed by today.
func Overdue(tx *Tx, today time.Time) ([]Job, error) {
	return queryJobs(tx, "WHERE state = 'open' AND held <> '' AND held < ? ORDER BY id", dateText(today))
}

func queryJobs(tx *Tx, where string, args ...any) ([]Job, error) {
	return listRows(tx, scanJob, "SELECT id, name, customer, state, due, held, accepted, closed, revision, repeats, note FROM jobs "+where, args...)
}

func scanJob(rows *sql.Rows) (j Job, err error) {
	var due, held, accepted, closed string
	var repeats sql.NullInt64
	if err := rows.Scan(&j.ID, &j.Name, &j.Customer, &j.State, &due, &held, &accepted, &closed, &j.Revision, &repeats, &j.Note); err != nil {
		return j, err
	}
	j.Repeats = repeats.Int64
	var faults [4]error
	j.Due, faults[0] = parseDate(due)
	j.Held, faults[1] = parseDate(held)
	j.Accepted, faults[2] = ParseTime(accepted)
	j.Closed, faults[3] = ParseTime(closed)
	return j, errors.Join(faults[:]...)
}

func dateText(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(time.DateOnly)
}

func parseDate(text string) (time.Time, error) {
	if text == "" {
		return time.Time{}, nil
	}
	return time.Parse(time.DateOnly, text)
}
