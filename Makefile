# The commands that are typed most; .ci/run is the whole list of checks.
.PHONY: demo test check bench pictures

demo:
	go run ./cmd/wirehold demo

test:
	go test ./...

check:
	.ci/run

bench:
	go test -run '^$$' -bench . ./inventory/... ./labels

# Pictures of the pages, to look at: phone, tablet and desktop, light and dark.
pictures:
	go test ./cmd/wirehold -run '^TestPictures$$' -count 1 -pictures "$${DIR:?say where to: make pictures DIR=/some/folder}"
