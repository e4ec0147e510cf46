package week

import (
	"strings"
	"testing"

	"batchwright/jigplan"
)

// Tasks that wait for each other are named as the circle they are; what has
// nothing to do with them stays.
func TestTasksInACircle(t *testing.T) {
	task := func(id string, after ...string) jigplan.Task { return jigplan.Task{ID: id, Job: "1", After: after} }
	w := &jigplan.Week{Jobs: []jigplan.WeekJob{{Job: jigplan.Job{ID: "1", Tasks: []jigplan.Task{
		task("1/a"), task("1/b", "1/a", "1/d"), task("1/c", "1/b"), task("1/d", "1/c"), task("1/e", "1/d"), task("1/f", "1/a")}}}}}
	inCircle(w)
	var kept []string
	for _, one := range w.Jobs[0].Tasks {
		kept = append(kept, one.ID)
	}
	if strings.Join(kept, " ") != "1/a 1/f" || len(w.Jobs[0].Left) != 4 {
		t.Errorf("kept %v, left %v", kept, w.Jobs[0].Left)
	}
	if len(w.Findings) != 1 || w.Findings[0].Read != "1/b after 1/d after 1/c after 1/b" {
		t.Errorf("%+v", w.Findings)
	}
}
