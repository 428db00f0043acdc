import { writeSync } from "node:fs";
import { closeShot, openLab, openShot, receive, wave } from "./small-lab.ts";

/*
 * Run in a process of its own that is killed at some moment: appends entries and sample blocks without end to the store in
 * `STORE_FOLDER`, and acknowledges each on stdout after the call returned: "entry <sequence> <hash>" or
 * "samples <shot> <total>".
 */
const store = openLab(process.env.STORE_FOLDER);
const say = (line: string) => writeSync(1, `${line}\n`);
const sayHead = () => {
  const { sequence, hash } = store.ledger.head();
  say(`entry ${sequence} ${hash}`);
};
for (const { shot } of store.records.openShots()) closeShot(store, shot, null);
sayHead();
for (;;) {
  const specimen = receive(store, `L${store.ledger.head().sequence}`);
  sayHead();
  const shot = openShot(store, specimen);
  sayHead();
  const writer = store.blocks.writer(shot);
  for (let i = 0; i < 5; i += 1) {
    writer.samples({ firstEndUs: 1 + i * 600, stepUs: 10, milliamps: wave(60, i) });
    writer.flush();
    say(`samples ${shot} ${60 * (i + 1)}`);
  }
  writer.close();
  closeShot(store, shot);
  sayHead();
}
