package shop

import (
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
)

// Revisions lists what was agreed with a job, oldest first.
func Revisions(tx *Tx, job int64) ([]Revision, error) {
	return listRows(tx, scanRevision, `SELECT job, number, at, kind, file, sha256, profile, boxes, parts, feet, cost, price, minutes, p80, boards, factors
		FROM revisions WHERE job = ? ORDER BY number`, job)
}

func scanRevision(rows *sql.Rows) (r Revision, err error) {
	var at, boards, factors string
	if err := rows.Scan(&r.Job, &r.Number, &at, &r.Kind, &r.File, &r.SHA256, &r.Profile, &r.Boxes, &r.Parts, &r.Feet,
		&r.Cost, &r.Price, &r.Minutes, &r.P80, &boards, &factors); err != nil {
		return r, err
	}
	r.At, err = ParseTime(at)
	if err := errors.Join(err, json.Unmarshal([]byte(boards), &r.Boards), json.Unmarshal([]byte(factors), &r.Factors)); err != nil {
		return r, fmt.Errorf("revision %d of job %d cannot be read: %w", r.Number, r.Job, err)
	}
	return r, nil
}

// RevisionsInForce keeps the revisions that hold: the latest that was accepted or
// changed, and the recuts after it.
func RevisionsInForce(all []Revision) []Revision {
	from := 0
	for i, r := range all {
		if r.Kind != KindRecut {
			from = i
		}
	}
	return all[from:]
}

func putPaper(tx *Tx, job int64, number int, kind string, data []byte) error {
	if data == nil {
		return nil
	}
	_, err := tx.Exec("INSERT INTO papers (job, number, kind, sha256, data) VALUES (?, ?, ?, ?, ?)", job, number, kind, sha256Of(data), data)
	return err
}

// ReadPapers gives the papers of one revision, each as it was put in to the byte.
func ReadPapers(tx *Tx, job int64, number int) (Papers, error) {
	var p Papers
	for kind, into := range map[string]*[]byte{"order": &p.Order, "plan": &p.Plan, "workbook": &p.Workbook} {
		var hash string
		err := tx.QueryRow("SELECT sha256, data FROM papers WHERE job = ? AND number = ? AND kind = ?", job, number, kind).Scan(&hash, into)
		switch {
		case errors.Is(err, sql.ErrNoRows):
		case err != nil:
			return p, err
		case sha256Of(*into) != hash:
			return p, fmt.Errorf("%w: the %s of job %d, revision %d", ErrDamaged, kind, job, number)
		}
	}
	return p, nil
}

func sha256Of(data []byte) string {
	s := sha256.Sum256(data)
	return hex.EncodeToString(s[:])
}

// Made is what came of one line of an order.
type Made struct {
	Box                    string
	Planned, Made, Spoiled int
}

// RecordMade keeps what was made of a job.
func RecordMade(tx *Tx, job int64, counts []Made) error {
	for _, m := range counts {
		if _, err := tx.Exec(`INSERT INTO made (job, box, planned, made, spoiled) VALUES (?, ?, ?, ?, ?)
			ON CONFLICT (job, box) DO UPDATE SET planned = planned + excluded.planned, made = made + excluded.made, spoiled = spoiled + excluded.spoiled`,
			job, m.Box, m.Planned, m.Made, m.Spoiled); err != nil {
			return err
		}
	}
	return nil
}

// MadeCounts is what was recorded of a job.
func MadeCounts(tx *Tx, job int64) ([]Made, error) {
	return listRows(tx, func(rows *sql.Rows) (m Made, err error) {
		err = rows.Scan(&m.Box, &m.Planned, &m.Made, &m.Spoiled)
		return m, err
	}, "SELECT box, planned, made, spoiled FROM made WHERE job = ? ORDER BY rowid", job)
}

// jobFaults lists what is wrong with the jobs of a shop file: a job whose latest
// revision is not there. That papers are as they were put in is for the store's
// seals to say, and for Read.
func jobFaults(tx *Tx) ([]string, error) {
	return listRows(tx, oneRow[string], `SELECT 'job ' || id || ' has no plan of its latest revision' FROM jobs
		WHERE NOT EXISTS (SELECT 1 FROM revisions WHERE job = id AND number = revision)
		OR NOT EXISTS (SELECT 1 FROM papers WHERE job = id AND number = revision AND kind = 'plan')`)
}
