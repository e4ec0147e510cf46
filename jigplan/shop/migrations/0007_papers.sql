-- What a job was accepted with is kept, also when the job is closed.
CREATE TRIGGER papers_are_kept BEFORE UPDATE ON papers BEGIN SELECT raise(ABORT, 'a paper is never changed'); END;
CREATE TRIGGER papers_stay BEFORE DELETE ON papers BEGIN SELECT raise(ABORT, 'a paper is never removed'); END;
