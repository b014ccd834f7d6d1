'use strict';
// A recorded run, cycle by cycle. The file around this script holds facts (JSON) and a recording (base64); what is in
// them is described in the manual, page.md. Texts of the program reach the page as text alone, never as markup.
(() => {

// ---- bytes ----

const LENGTH_BASE = [3, 4, 5, 6, 7, 8, 9, 10, 11, 13, 15, 17, 19, 23, 27, 31, 35, 43, 51, 59, 67, 83, 99, 115, 131, 163, 195, 227, 258];
const LENGTH_MORE = [0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 2, 2, 3, 3, 3, 3, 4, 4, 4, 4, 5, 5, 5, 5, 0];
const BACK_BASE = [1, 2, 3, 4, 5, 7, 9, 13, 17, 25, 33, 49, 65, 97, 129, 193, 257, 385, 513, 769, 1025, 1537, 2049, 3073, 4097, 6145, 8193, 12289, 16385, 24577];
const BACK_MORE = [0, 0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 5, 5, 6, 6, 7, 7, 8, 8, 9, 9, 10, 10, 11, 11, 12, 12, 13, 13];
const LENGTHS_ORDER = [16, 17, 18, 0, 8, 7, 9, 6, 10, 5, 11, 4, 12, 3, 13, 2, 14, 1, 15];

/** A table that gives for the next bits of the input, lowest first, a symbol and how many bits it takes. */
function codeTable(lengths) {
  const most = Math.max(1, ...lengths);
  const next = new Int32Array(most + 2);
  for (const length of lengths) if (length) next[length + 1]++;
  for (let i = 1; i <= most + 1; i++) next[i] = (next[i] + (i > 1 ? next[i - 1] : 0)) << 1;
  const table = new Int32Array(1 << most);
  lengths.forEach((length, symbol) => {
    if (!length) return;
    const code = next[length]++;
    let reversed = 0;
    for (let bit = 0; bit < length; bit++) if (code >> bit & 1) reversed |= 1 << (length - 1 - bit);
    for (let i = reversed; i < table.length; i += 1 << length) table[i] = symbol << 4 | length;
  });
  return {table, mask: table.length - 1};
}

let fixed = null;

/**
 * Unpacks deflated bytes (RFC 1951). The browser could do it too, but only later, by a promise, and not every one can;
 * a step back must be done at once.
 */
function inflate(input) {
  let output = new Uint8Array(4 * input.length + 1024);
  let size = 0;
  let at = 0;
  let held = 0;
  let heldBits = 0;
  const bits = count => {
    while (heldBits < count) {
      held |= input[at++] << heldBits;
      heldBits += 8;
    }
    const value = held & (1 << count) - 1;
    held >>>= count;
    heldBits -= count;
    return value;
  };
  const symbol = codes => {
    while (heldBits < 15 && at < input.length) {
      held |= input[at++] << heldBits;
      heldBits += 8;
    }
    const entry = codes.table[held & codes.mask];
    const length = entry & 15;
    if (!length || length > heldBits) throw new Error('the recording is damaged');
    held >>>= length;
    heldBits -= length;
    return entry >> 4;
  };
  const room = count => {
    if (size + count > output.length) {
      const larger = new Uint8Array(2 * output.length + count);
      larger.set(output);
      output = larger;
    }
  };
  let last;
  do {
    last = bits(1);
    const kind = bits(2);
    if (kind === 0) {
      // Whole bytes may have been taken in beforehand: they are given back.
      at -= heldBits >> 3;
      held = heldBits = 0;
      const count = input[at] | input[at + 1] << 8;
      room(count);
      output.set(input.subarray(at + 4, at + 4 + count), size);
      at += 4 + count;
      size += count;
      continue;
    }
    let literals;
    let distances;
    if (kind === 1) {
      fixed = fixed || {
        literals: codeTable(Array.from({length: 288}, (_, i) => i < 144 ? 8 : i < 256 ? 9 : i < 280 ? 7 : 8)),
        distances: codeTable(new Array(30).fill(5)),
      };
      ({literals, distances} = fixed);
    } else if (kind === 2) {
      const literalCount = bits(5) + 257;
      const distanceCount = bits(5) + 1;
      const lengthCount = bits(4) + 4;
      const small = new Array(19).fill(0);
      for (let i = 0; i < lengthCount; i++) small[LENGTHS_ORDER[i]] = bits(3);
      const smallCodes = codeTable(small);
      const lengths = [];
      while (lengths.length < literalCount + distanceCount) {
        const code = symbol(smallCodes);
        if (code < 16) {
          lengths.push(code);
        } else {
          const again = code === 16 ? lengths[lengths.length - 1] : 0;
          let count = code === 16 ? 3 + bits(2) : code === 17 ? 3 + bits(3) : 11 + bits(7);
          while (count-- > 0) lengths.push(again);
        }
      }
      literals = codeTable(lengths.slice(0, literalCount));
      distances = codeTable(lengths.slice(literalCount));
    } else {
      throw new Error('the recording is damaged');
    }
    for (;;) {
      const code = symbol(literals);
      if (code < 256) {
        room(1);
        output[size++] = code;
      } else if (code === 256) {
        break;
      } else {
        const count = LENGTH_BASE[code - 257] + bits(LENGTH_MORE[code - 257]);
        const far = symbol(distances);
        const back = BACK_BASE[far] + bits(BACK_MORE[far]);
        room(count);
        for (let i = 0; i < count; i++, size++) output[size] = output[size - back];
      }
    }
  } while (!last);
  return output.subarray(0, size);
}

/** Reads numbers from bytes. */
class Reader {
  constructor(bytes, at = 0, end = bytes.length) {
    this.bytes = bytes;
    this.at = at;
    this.end = end;
  }

  byte() {
    return this.bytes[this.at++];
  }

  /** A number of any size up to 2^53. */
  number() {
    let value = 0;
    let scale = 1;
    for (;;) {
      const part = this.bytes[this.at++];
      value += (part & 127) * scale;
      if (part < 128) return value;
      scale *= 128;
    }
  }

  /** A word of 32 bits, signed. */
  word() {
    const folded = this.number() >>> 0;
    return folded >>> 1 ^ -(folded & 1);
  }

  /** A reader of the bytes that follow, whose count comes first. */
  part() {
    const length = this.number();
    const part = new Reader(this.bytes, this.at, this.at + length);
    this.at += length;
    return part;
  }
}

function fromBase64(text) {
  const string = atob(text);
  const bytes = new Uint8Array(string.length);
  for (let i = 0; i < bytes.length; i++) bytes[i] = string.charCodeAt(i);
  return bytes;
}

// ---- the recording ----

const WORK = 0, WAIT = 1, SLOT = 2, CODE_WAIT = 3, CODE_SLOT = 4, LOAD_WAIT = 5, LOAD_SLOT = 6, SLEEP = 7, IDLE = 8, FAULT = 9;
const STATES = ['work', 'wait', 'slot', 'code wait', 'code slot', 'load wait', 'load slot', 'sleep', 'idle', 'fault'];
const isWaiting = state => state === WAIT || state === CODE_WAIT || state === LOAD_WAIT;
const isAdmitted = state => state === SLOT || state === CODE_SLOT || state === LOAD_SLOT;

// The kinds of change, as they are written; pins are told apart from the cores' changes.
const BEGIN = 0, BEGIN_OTHER = 1, FINISH = 2, REQUEST = 3, ADMIT = 4, GIVE_UP = 5, STATE = 6, REGISTER = 7, SHARED = 8,
    PRIVATE = 9, PORT = 10, LOADING = 11, START = 12, GO_IDLE = 13, GO_FAULT = 14, LET_GO = 15, PINS = 16;

/** Changes after which a core does something else than before. */
const ENDS = new Set([FINISH, REQUEST, ADMIT, GIVE_UP, LOADING, START, GO_IDLE, GO_FAULT]);

/** Values are told as the difference from what was to be expected: the one before and the step before that, again. */
const FORETOLD = 1024;

/** Changes in the making, each a cycle, a kind and two numbers. */
class Row {
  constructor() {
    this.numbers = [];
    this.states = [];
  }

  add(cycle, kind, a, b) {
    this.numbers.push(cycle, kind, a, b);
  }
}

/** One core's changes in a block. */
function readLane(reader, first) {
  const row = new Row();
  let state = reader.byte();
  let instruction = reader.number();
  let asked = reader.word();
  const marks = reader.part();
  const values = reader.part();
  const last = new Int32Array(4 * FORETOLD);
  const step = new Int32Array(4 * FORETOLD);
  const followers = new Int32Array(FORETOLD);
  const value = channel => {
    const place = 4 * (instruction % FORETOLD) + channel;
    const now = last[place] + step[place] + values.word() | 0;
    step[place] = now - last[place];
    last[place] = now;
    return now;
  };
  let cycle = first;
  // A lane's pieces: a cycle, and the state from there on; 16 more where an instruction or an access begins.
  row.states.push(first, state);
  while (marks.at < marks.end) {
    const head = marks.byte();
    cycle += head >> 5 === 7 ? marks.number() : head >> 5;
    let kind = head & 31;
    let a = 0;
    let b = 0;
    let entered = -1;
    switch (kind) {
      case BEGIN:
      case BEGIN_OTHER: {
        const place = instruction % FORETOLD;
        a = kind === BEGIN ? followers[place] - 1 : marks.number();
        followers[place] = a + 1;
        instruction = a;
        kind = BEGIN;
        entered = WORK | 16;
        break;
      }
      case REQUEST:
        a = marks.byte();
        b = asked = value(1);
        entered = a;
        break;
      case ADMIT:
        entered = (state & 15) + 1 | 16;
        break;
      case STATE:
        a = entered = marks.byte();
        break;
      case REGISTER:
        a = marks.byte();
        b = value(0);
        break;
      case SHARED:
        a = asked + values.word() | 0;
        b = value(3);
        break;
      case PRIVATE:
        a = value(2);
        b = value(3);
        break;
      case PORT:
        a = marks.byte();
        b = value(3);
        break;
      case LOADING:
        a = marks.number();
        b = marks.word();
        break;
      case START:
        entered = WORK;
        break;
      case GO_IDLE:
      case GO_FAULT:
        a = marks.number();
        b = instruction = marks.number();
        entered = kind === GO_IDLE ? IDLE : FAULT;
        break;
      default:
        break;
    }
    row.add(cycle, kind, a, b);
    if (entered >= 0 && entered !== state) {
      state = entered;
      row.states.push(cycle, state);
    } else if (entered >= 16) {
      row.states.push(cycle, state);
    }
    if (entered >= 16) state &= 15;
  }
  return row;
}

/** The pins' changes in a block; their pieces are a cycle, the levels and the clashes from there on. */
function readPins(reader, first) {
  const row = new Row();
  let levels = reader.number();
  let clashes = reader.number();
  const changes = reader.part();
  row.states.push(first, levels, clashes);
  let cycle = first;
  while (changes.at < changes.end) {
    cycle += changes.number();
    levels = (levels ^ changes.number()) >>> 0;
    clashes = changes.number();
    row.add(cycle, PINS, levels, clashes);
    row.states.push(cycle, levels, clashes);
  }
  return row;
}

/** A run's changes, block by block, read when they are needed. */
class Recording {
  constructor(bytes, index, cores) {
    this.bytes = bytes;
    this.cores = cores;
    this.starts = [];
    this.places = [];
    let at = 0;
    for (const [first, length] of index) {
      this.starts.push(first);
      this.places.push([at, at + length]);
      at += length;
    }
    if (at !== bytes.length) throw new Error('the recording is damaged');
    this.recent = new Map();
  }

  get blocks() {
    return this.starts.length - 1;
  }

  part(i) {
    return inflate(this.bytes.subarray(...this.places[i]));
  }

  firstCycle(block) {
    return this.starts[block + 1];
  }

  /** The block that holds the changes of a cycle. */
  blockAt(cycle) {
    let low = 0;
    let high = this.blocks - 1;
    while (low < high) {
      const middle = low + high + 1 >> 1;
      if (this.firstCycle(middle) <= cycle) low = middle; else high = middle - 1;
    }
    return low;
  }

  /** All changes of a block, by cycle and within a cycle by core. A few blocks are kept. */
  block(i) {
    let block = this.recent.get(i);
    if (block) {
      this.recent.delete(i);
    } else {
      block = this.read(i);
      if (this.recent.size >= 6) this.recent.delete(this.recent.keys().next().value);
    }
    this.recent.set(i, block);
    return block;
  }

  read(i) {
    const first = this.firstCycle(i);
    const reader = new Reader(this.part(i + 1));
    const rows = [];
    for (let core = 0; core < this.cores; core++) rows.push(readLane(reader, first));
    rows.push(readPins(reader, first));
    const count = rows.reduce((sum, row) => sum + row.numbers.length / 4, 0);
    const block = {
      first,
      count,
      cycle: new Float64Array(count),
      core: new Int8Array(count),
      kind: new Uint8Array(count),
      a: new Float64Array(count),
      b: new Float64Array(count),
      lanes: rows.slice(0, this.cores).map(row => row.states),
      pins: rows[this.cores].states,
    };
    const next = new Int32Array(rows.length);
    const due = rows.map(row => row.numbers.length ? row.numbers[0] : Infinity);
    for (let done = 0; done < count;) {
      let cycle = Infinity;
      for (const other of due) if (other < cycle) cycle = other;
      for (let r = 0; r < rows.length; r++) {
        if (due[r] !== cycle) continue;
        const numbers = rows[r].numbers;
        let at = next[r];
        while (at < numbers.length && numbers[at] === cycle) {
          block.cycle[done] = cycle;
          block.core[done] = r < this.cores ? r : -1;
          block.kind[done] = numbers[at + 1];
          block.a[done] = numbers[at + 2];
          block.b[done] = numbers[at + 3];
          done++;
          at += 4;
        }
        next[r] = at;
        due[r] = at < numbers.length ? numbers[at] : Infinity;
      }
    }
    return block;
  }
}

// ---- the chip ----

const PAGE = 256;

/** Numbers in pages, of which copies share those that have not changed since. */
class Paged {
  constructor(size, make) {
    this.make = make;
    this.size = size;
    this.pages = new Array(Math.ceil(size / PAGE)).fill(null);
    this.own = new Uint8Array(this.pages.length);
  }

  get(i) {
    const page = this.pages[i >> 8];
    return page ? page[i & 255] : 0;
  }

  set(i, value) {
    const p = i >> 8;
    if (!this.own[p]) {
      this.pages[p] = this.pages[p] ? this.pages[p].slice() : this.make();
      this.own[p] = 1;
    }
    this.pages[p][i & 255] = value;
  }

  add(i, value) {
    this.set(i, this.get(i) + value);
  }

  clear() {
    this.pages.fill(null);
    this.own.fill(0);
  }

  save() {
    this.own.fill(0);
    return this.pages.slice();
  }

  restore(saved) {
    this.pages = saved.slice();
    this.own.fill(0);
  }
}

const words = size => new Paged(size, () => new Int32Array(PAGE));
const counts = size => new Paged(size, () => new Float64Array(PAGE));

/** What the chip is at one cycle, made from the start of the recording and its changes. */
class Chip {
  constructor(facts, recording) {
    this.facts = facts;
    this.recording = recording;
    const cores = this.cores = facts.design.cores;
    const lines = facts.source.length + 1;
    // For each core: state, instruction, message, asked-for address; and cycles.
    this.state = new Int32Array(cores);
    this.instruction = new Int32Array(cores);
    this.message = new Int32Array(cores);
    this.asked = new Int32Array(cores);
    this.since = new Float64Array(cores);
    this.begun = new Float64Array(cores);
    this.counted = new Float64Array(cores);
    this.requested = new Float64Array(cores);
    this.everBegun = new Uint8Array(cores);
    this.registers = new Int32Array(16 * cores);
    this.written = new Float64Array(16 * cores).fill(-1);
    this.ports = new Int32Array(16 * cores);
    this.stateCycles = new Float64Array(10 * cores);
    this.settled = new Float64Array(2 * cores);
    this.edge = new Float64Array(2 * cores).fill(-1);
    this.lastAdmitted = new Int32Array([-1]);
    this.pins = new Float64Array(2);
    this.small = ['state', 'instruction', 'message', 'asked', 'since', 'begun', 'counted', 'requested', 'everBegun',
      'registers', 'written', 'ports', 'stateCycles', 'settled', 'edge', 'lastAdmitted', 'pins'];
    this.shared = words(facts.design.sharedWords);
    this.rams = Array.from({length: cores}, () => words(facts.design.privateWords));
    this.lineCycles = Array.from({length: cores}, () => counts(lines));
    this.lineWaits = Array.from({length: cores}, () => counts(lines));
    this.lineTimes = Array.from({length: cores}, () => counts(lines));
    this.paged = [this.shared, ...this.rams, ...this.lineCycles, ...this.lineWaits, ...this.lineTimes];
    /** The words written in the present cycle: core (-1 for shared memory) and address. */
    this.fresh = [];
    this.readStart();
    this.cycle = facts.from;
    this.blockNumber = 0;
    this.next = 0;
    this.keyframes = [];
    this.keep();
  }

  readStart() {
    const reader = new Reader(this.recording.part(0));
    for (let core = 0; core < this.cores; core++) {
      this.state[core] = reader.byte();
      this.instruction[core] = reader.number();
      this.message[core] = reader.number() - 1;
      this.since[core] = reader.number();
      this.begun[core] = reader.number();
      this.counted[core] = reader.number();
      this.requested[core] = reader.number();
      this.asked[core] = reader.word();
      this.everBegun[core] = this.instruction[core] ? 1 : 0;
      for (let i = 0; i < 16; i++) this.registers[16 * core + i] = reader.word();
      this.ports[16 * core + 1] = reader.number();
      this.ports[16 * core + 2] = reader.number();
      for (let i = 8; i < 16; i++) this.ports[16 * core + i] = reader.word();
      for (let i = 0; i < this.facts.design.privateWords; i++) {
        const word = reader.word();
        if (word) this.rams[core].set(i, word);
      }
    }
    for (let i = 0; i < this.facts.design.sharedWords; i++) {
      const word = reader.word();
      if (word) this.shared.set(i, word);
    }
    this.pins[0] = reader.number();
    this.pins[1] = reader.number();
    this.lastAdmitted[0] = reader.number();
    this.settled.fill(this.facts.from);
    this.noteEdges(this.facts.from, reader.number());
    // What is counted is counted from the recording's beginning on.
    for (let core = 0; core < this.cores; core++) {
      this.counted[core] = Math.max(this.counted[core], this.facts.from);
    }
    this.startState = this.state.slice();
    this.startBegun = this.begun.slice();
  }

  /** Keeps a keyframe at the present block's beginning, if there is none. */
  keep() {
    if (this.keyframes[this.blockNumber]) return;
    this.keyframes[this.blockNumber] = {
      cycle: this.cycle,
      small: this.small.map(name => this[name].slice()),
      paged: this.paged.map(paged => paged.save()),
    };
  }

  restore(block) {
    const keyframe = this.keyframes[block];
    this.small.forEach((name, i) => this[name].set(keyframe.small[i]));
    this.paged.forEach((paged, i) => paged.restore(keyframe.paged[i]));
    this.blockNumber = block;
    this.next = 0;
    this.cycle = keyframe.cycle;
    this.fresh = [];
  }

  /** Goes to a cycle, reading at most so many blocks on the way; says whether it is there. */
  moveTo(cycle, mostBlocks = Infinity) {
    const block = this.recording.blockAt(cycle);
    let nearest = block;
    while (!this.keyframes[nearest]) nearest--;
    if (cycle < this.cycle || nearest > this.blockNumber) this.restore(nearest);
    for (let read = 0; this.blockNumber < block; read++) {
      if (read >= mostBlocks) return false;
      const end = this.recording.firstCycle(this.blockNumber + 1) - 1;
      this.apply(end);
      this.blockNumber++;
      this.next = 0;
      this.keep();
    }
    this.apply(cycle);
    return true;
  }

  apply(cycle) {
    const block = this.recording.block(this.blockNumber);
    let i = this.next;
    if (cycle > this.cycle) this.fresh = [];
    while (i < block.count && block.cycle[i] <= cycle) {
      this.change(block.kind[i], block.cycle[i], block.core[i], block.a[i], block.b[i]);
      if (block.cycle[i] === cycle && (block.kind[i] === SHARED || block.kind[i] === PRIVATE)) {
        this.fresh.push(block.kind[i] === SHARED ? -1 : block.core[i], block.a[i]);
      }
      i++;
    }
    this.next = i;
    this.cycle = cycle;
  }

  enter(core, state, cycle) {
    const before = this.state[core];
    if (before === state) return;
    this.stateCycles[10 * core + before] += cycle - Math.max(this.since[core], this.facts.from);
    this.since[core] = cycle;
    this.state[core] = state;
  }

  lineOf(core) {
    return this.facts.instructions[this.instruction[core]][0];
  }

  change(kind, cycle, core, a, b) {
    switch (kind) {
      case BEGIN:
        this.instruction[core] = a;
        this.begun[core] = cycle;
        this.everBegun[core] = 1;
        this.enter(core, WORK, cycle);
        break;
      case FINISH: {
        const line = this.lineOf(core);
        if (line) this.lineCycles[core].add(line, cycle - this.counted[core]);
        this.counted[core] = cycle;
        break;
      }
      case REQUEST:
        this.asked[core] = b;
        this.requested[core] = cycle;
        this.enter(core, a, cycle);
        break;
      case ADMIT:
        if (this.state[core] === WAIT) {
          const line = this.lineOf(core);
          if (line) {
            this.lineWaits[core].add(line, cycle - Math.max(this.requested[core], this.facts.from));
            this.lineTimes[core].add(line, 1);
          }
        }
        this.lastAdmitted[0] = core;
        this.enter(core, this.state[core] + 1, cycle);
        break;
      case STATE:
        this.enter(core, a, cycle);
        break;
      case REGISTER:
        this.registers[16 * core + a] = b;
        this.written[16 * core + a] = cycle;
        break;
      case SHARED:
        this.shared.set(a, b);
        break;
      case PRIVATE:
        this.rams[core].set(a, b);
        break;
      case PORT:
        if (a >= 8) {
          this.settleTally(core, a >> 2 & 1, cycle);
          if ((a & 3) === 0) this.edge[2 * core + (a >> 2 & 1)] = -1;
        }
        this.ports[16 * core + a] = b;
        break;
      case LOADING:
        this.registers.fill(0, 16 * core, 16 * core + 16);
        this.rams[core].clear();
        this.instruction[core] = 0;
        this.counted[core] = cycle;
        break;
      case START:
        this.counted[core] = cycle;
        this.enter(core, WORK, cycle);
        break;
      case GO_IDLE:
        this.instruction[core] = b;
        this.everBegun[core] = 1;
        this.enter(core, IDLE, cycle);
        break;
      case GO_FAULT:
        this.message[core] = a;
        this.instruction[core] = b;
        this.enter(core, FAULT, cycle);
        break;
      case LET_GO:
        this.ports.fill(0, 16 * core, 16 * core + 16);
        this.settled.fill(cycle, 2 * core, 2 * core + 2);
        this.edge.fill(-1, 2 * core, 2 * core + 2);
        break;
      case PINS:
        this.pinsChange(cycle, a);
        this.pins[1] = b;
        break;
      default:
        break;
    }
  }

  // Tallies are not told cycle by cycle: they follow from their modes and from the pins.

  tallyAt(core, tally, cycle) {
    const base = 16 * core + 8 + 4 * tally;
    const value = this.ports[base];
    const mode = this.ports[base + 1] & 255;
    const gone = cycle - this.settled[2 * core + tally];
    const high = (this.pins[0] >>> (this.ports[base + 1] >> 8 & 31) & 1) === 1;
    if (mode === 1 || (mode === 4 && high) || (mode === 5 && !high)) return value + gone % 2 ** 32 | 0;
    if (mode === 6) {
      if (gone === 0) return value;
      const span = Math.max(1, this.ports[base + 2] >>> 0);
      const now = value >>> 0;
      return (now < span ? (now + gone) % span : (gone - 1) % span) | 0;
    }
    const edge = this.edge[2 * core + tally];
    return edge >= 0 && cycle > edge && mode !== 4 && mode !== 5 ? value + 1 | 0 : value;
  }

  settleTally(core, tally, cycle) {
    const which = 2 * core + tally;
    this.ports[16 * core + 8 + 4 * tally] = this.tallyAt(core, tally, cycle);
    this.settled[which] = cycle;
    if (this.edge[which] < cycle) this.edge[which] = -1;
  }

  /** The pins get other levels: settles the tallies that look at them. */
  pinsChange(cycle, levels) {
    const flipped = (this.pins[0] ^ levels) >>> 0;
    for (let which = 0; which < 2 * this.cores; which++) {
      const word = this.ports[16 * (which >> 1) + 9 + 4 * (which & 1)];
      const mode = word & 255;
      if (mode >= 2 && mode <= 5 && flipped >>> (word >> 8 & 31) & 1) this.settleTally(which >> 1, which & 1, cycle);
    }
    this.pins[0] = levels;
    this.noteEdges(cycle, flipped);
  }

  /** An edge in this cycle counts from the next one on. */
  noteEdges(cycle, flipped) {
    for (let which = 0; which < 2 * this.cores; which++) {
      const word = this.ports[16 * (which >> 1) + 9 + 4 * (which & 1)];
      const pin = word >> 8 & 31;
      const wanted = this.pins[0] >>> pin & 1 ? 2 : 3;
      if ((word & 255) === wanted && flipped >>> pin & 1) this.edge[which] = cycle;
    }
  }

  cyclesIn(core, state) {
    const now = this.state[core] === state ? this.cycle - Math.max(this.since[core], this.facts.from) : 0;
    return this.stateCycles[10 * core + state] + now;
  }
}

// ---- the run in words: the same as in the terminal's stepper ----

const START_OP = 0x30, STOP_OP = 0x31, HALT_OP = 0x32, AWAIT_OP = 0x2C;
const ACCESS_OPS = new Set([0x1A, 0x1B, 0x1C, 0x1D, START_OP, STOP_OP]);
const END_WORDS = {
  'all-idle': 'every core is idle or in fault',
  stuck: 'it is stuck, nothing can ever happen again',
  limit: 'the cycle limit is reached',
};
const NEVER = Infinity;

const cyclesText = n => n === 1 ? '1 cycle' : `${n} cycles`;
const capital = text => text.charAt(0).toUpperCase() + text.slice(1);
const numbersText = list => (list.length === 1 ? ' ' : 's ')
    + list.map((n, i) => (i === 0 ? '' : i === list.length - 1 ? ' and ' : ', ') + n).join('');

/** Characters that would not be seen, would turn text about or pile up, as escapes; tabs stay. */
function visible(text) {
  return text.replace(/[^\P{C}\t]|[\u2028\u2029]|(?<=\p{M}{3})\p{M}/gu, c => {
    const code = c.codePointAt(0);
    return code > 0xFFFF ? `\\u{${code.toString(16)}}` : `\\u${code.toString(16).padStart(4, '0')}`;
  });
}

class Words {
  constructor(facts, chip) {
    this.facts = facts;
    this.design = facts.design;
    this.chip = chip;
    this.sharedLabels = new Map(facts.sharedLabels);
    this.labelAddresses = facts.sharedLabels.map(label => label[0]).sort((a, b) => a - b);
    this.privateLabels = Array.from({length: this.design.cores}, () => new Map());
    this.hasSection = new Array(this.design.cores).fill(false);
    for (const section of facts.sections) {
      for (const core of section.cores) {
        this.privateLabels[core] = new Map(section.labels);
        this.hasSection[core] = true;
      }
    }
    this.sharedLines = new Map(facts.sharedLines);
    this.texts = new Map(facts.instructions.filter(it => it[1]).map(it => [`${it[2]} ${it[3]}`, it[4]]));
    this.rotation = this.design.policy === 'rotation' ? this.design.order : null;
  }

  // The rotation's rule.

  owner(cycle) {
    return this.rotation[Math.floor(cycle / this.design.slotCycles) % this.rotation.length];
  }

  nextSlot(core, cycle) {
    const first = Math.ceil(cycle / this.design.slotCycles);
    for (let slot = first; slot < first + this.rotation.length; slot++) {
      if (this.rotation[slot % this.rotation.length] === core) return slot * this.design.slotCycles;
    }
    return NEVER;
  }

  // Names of places.

  sharedName(address) {
    let low = 0;
    let high = this.labelAddresses.length;
    while (low < high) {
      const middle = low + high >> 1;
      if (this.labelAddresses[middle] <= address) low = middle + 1; else high = middle;
    }
    if (!low) return '';
    const label = this.labelAddresses[low - 1];
    const block = this.facts.sharedBlocks.find(it => it[0] <= address && address < it[0] + it[1]);
    if (label !== address && (!block || label < block[0])) return '';
    return this.sharedLabels.get(label) + (label === address ? '' : `+${address - label}`);
  }

  word(address) {
    const name = this.sharedName(address);
    return `shared word ${address}${name && ` (${name})`}`;
  }

  /** The line a core is at, or 0. */
  line(core) {
    const state = this.chip.state[core];
    if (state === CODE_WAIT || state === CODE_SLOT) return this.sharedLines.get(this.chip.asked[core]) || 0;
    return this.facts.instructions[this.chip.instruction[core]][0];
  }

  /** The instruction a core is doing, is about to do, or stands at. */
  instruction(core) {
    const state = this.chip.state[core];
    if (state === CODE_WAIT || state === CODE_SLOT) {
      const address = this.chip.asked[core];
      return this.texts.get(`${address} ${this.chip.shared.get(address)}`) || `shared word ${address}`;
    }
    return this.facts.instructions[this.chip.instruction[core]][4];
  }

  place(core) {
    const line = this.line(core);
    const state = this.chip.state[core];
    const at = this.facts.instructions[this.chip.instruction[core]];
    const where = line ? `line ${line}`
      : state === CODE_WAIT || state === CODE_SLOT ? `shared word ${this.chip.asked[core]}`
        : `${at[1] ? 'shared' : 'private'} word ${at[2]}`;
    return `${where}: ${this.instruction(core)}`;
  }

  where(core) {
    const state = this.chip.state[core];
    if (state === LOAD_WAIT || state === LOAD_SLOT) return 'It is being started.';
    return `${capital(this.place(core))}.`;
  }

  opcode(core) {
    return this.facts.instructions[this.chip.instruction[core]][3] >>> 26;
  }

  request(core) {
    const address = this.chip.asked[core] >>> 0;
    switch (this.chip.state[core]) {
      case CODE_WAIT:
      case CODE_SLOT:
        return `its next instruction, in ${this.word(address)}`;
      case LOAD_WAIT:
      case LOAD_SLOT:
        return `a word of its image, ${this.word(address)}`;
      default:
        return this.wanted(core, address);
    }
  }

  wanted(core, address) {
    const op = this.opcode(core);
    return op === START_OP ? 'its turn to start a core' : op === STOP_OP ? 'its turn to stop a core' : this.word(address);
  }

  /** The run's last cycle is the present one. */
  ended() {
    return this.facts.ended && this.chip.cycle >= this.facts.ended.cycle ? this.facts.ended : null;
  }

  /** What a core is doing. */
  of(core, ahead) {
    const ended = this.ended();
    return (ended ? `The run has ended at cycle ${ended.cycle}: ${END_WORDS[ended.why]}. ` : '') + this.doing(core, ahead);
  }

  doing(core, ahead) {
    switch (this.chip.state[core]) {
      case WORK:
        return this.works(core, ahead);
      case WAIT:
      case CODE_WAIT:
      case LOAD_WAIT:
        return this.waits(core, ahead);
      case SLOT:
      case CODE_SLOT:
      case LOAD_SLOT:
        return this.holds(core);
      case SLEEP:
        return this.sleeps(core, ahead);
      case IDLE:
        return this.idles(core);
      default:
        return this.faults(core);
    }
  }

  works(core, ahead) {
    const now = this.chip.cycle;
    const begun = this.chip.begun[core];
    const until = ahead.until[core];
    let text = `Core ${core} works on ${this.place(core)}`;
    if (until > 0 && until - begun > 1) text += ` (cycle ${now - begun + 1} of ${until - begun})`;
    text += '.';
    const next = ahead.next[core];
    if (next && next.kind === GO_FAULT) {
      text += ` That is a fault: from cycle ${next.cycle} on it does nothing any more.`;
    } else if (next && next.kind === REQUEST && ACCESS_OPS.has(this.opcode(core))) {
      text += ` From cycle ${until} on it asks for ${this.wanted(core, next.b >>> 0)}.`;
      if (this.rotation) {
        const slot = this.nextSlot(core, until);
        text += slot === NEVER ? ' It has no slot in the order.'
          : slot === until ? ' Its slot opens in that very cycle: it need not wait.'
            : ` Its slot opens at ${slot}: that will be a wait of ${cyclesText(slot - until)}.`;
      }
    }
    return text;
  }

  waits(core, ahead) {
    const asked = this.chip.requested[core];
    const text = `Core ${core} asked for ${this.request(core)} at cycle ${asked}. `;
    return `${text}${this.rotation ? this.slotOpens(core, asked) : this.inTurn(core, asked, ahead)} ${this.where(core)}`;
  }

  slotOpens(core, asked) {
    const slot = this.nextSlot(core, asked);
    if (slot === NEVER) return 'The order has no slot for it: it will never be admitted.';
    const all = slot - asked;
    const left = slot - this.chip.cycle;
    return left === all ? `Its slot opens at ${slot}: ${cyclesText(all)} to wait.`
      : `Its slot opens at ${slot}: ${left} of ${cyclesText(all)} still to wait.`;
  }

  inTurn(core, asked, ahead) {
    const others = this.inLine().filter(other => other !== core);
    const holder = this.holders()[0];
    let text = 'The memory is free';
    if (holder !== undefined) {
      const until = ahead.until[holder];
      text = until < 0 ? `Core ${holder} holds the memory` : `Core ${holder} holds the memory until cycle ${until - 1}`;
    }
    text += others.length ? `; in line with it: core${numbersText(others)}. ` : '; nobody else is in line. ';
    const next = ahead.next[core];
    const now = this.chip.cycle;
    return text + (next && next.kind === ADMIT
      ? `It is admitted at cycle ${next.cycle}: ${next.cycle - now} of ${cyclesText(next.cycle - asked)} still to wait.`
      : `It has waited ${cyclesText(now - asked)}, and is not admitted before cycle ${ahead.to}.`);
  }

  holds(core) {
    const since = this.chip.since[core];
    const wait = since - this.chip.requested[core];
    return `Core ${core} holds the memory for ${this.request(core)}: cycle ${this.chip.cycle - since + 1} of `
      + `${this.design.slotCycles}. It ${wait === 0 ? 'did not have to wait' : `had waited ${cyclesText(wait)}`}. ${this.where(core)}`;
  }

  sleeps(core, ahead) {
    const until = ahead.until[core];
    const now = this.chip.cycle;
    const word = this.facts.instructions[this.chip.instruction[core]][3];
    const end = until < 0 ? `That does not come before cycle ${ahead.to}.` : `${cyclesText(until - now)} to go.`;
    if (word >>> 26 === AWAIT_OP) {
      const mask = this.chip.registers[16 * core + (word >>> 18 & 15)];
      const wanted = word >>> 17 & 1 ? word << 15 >> 15 : this.chip.registers[16 * core + (word & 15)];
      const come = until < 0 ? end : `That comes at cycle ${until}.`;
      return `Core ${core} sleeps until ${pinsText(mask, wanted)}. ${come} ${this.where(core)}`;
    }
    return until < 0 ? `Core ${core} sleeps. ${end} ${this.where(core)}`
      : `Core ${core} sleeps until cycle ${until}. ${end} ${this.where(core)}`;
  }

  idles(core) {
    if (!this.chip.instruction[core] && this.chip.since[core] === 0) {
      return this.hasSection[core] ? `Core ${core} is idle.`
        : `Core ${core} is idle: the program has no section for it, and no core has started it.`;
    }
    const line = this.line(core);
    const word = this.facts.instructions[this.chip.instruction[core]][3];
    const op = word >>> 26;
    const how = op === HALT_OP ? 'it halted'
      : op === STOP_OP && this.chip.registers[16 * core + (word >>> 22 & 15)] === core ? 'it stopped itself' : 'it was stopped';
    return `Core ${core} is idle since cycle ${this.chip.since[core]}: ${how}${line ? ` in line ${line}` : ''}.`;
  }

  faults(core) {
    const [, text, hasWord] = this.facts.messages[this.chip.message[core]];
    return `Core ${core} is in fault since cycle ${this.chip.since[core]}: ${text}.${hasWord ? ` ${this.where(core)}` : ''}`;
  }

  /** Whose turn it is. */
  turn() {
    const now = this.chip.cycle;
    const holders = this.holders();
    if (this.rotation) {
      const owner = this.owner(now);
      const slot = Math.floor(now / this.design.slotCycles);
      return `Slot ${slot} is core ${owner}'s, cycle ${now % this.design.slotCycles + 1} of ${this.design.slotCycles}, `
        + `and is ${holders.includes(owner) ? 'in use' : 'not used'}.`;
    }
    if (!holders.length) return 'The memory is free.';
    const line = this.inLine();
    const waiting = line.length ? ` In line: core${numbersText(line)}.` : '';
    if (holders.length > 1) return `Core${numbersText(holders)} each have an access under way.${waiting}`;
    return `Core ${holders[0]} holds the memory, cycle ${now - this.chip.since[holders[0]] + 1} of ${this.design.slotCycles}.${waiting}`;
  }

  coresIn(test) {
    return [...this.chip.state.keys()].filter(core => test(this.chip.state[core]));
  }

  holders() {
    return this.coresIn(isAdmitted);
  }

  /** Who waits, in the order in which they would be admitted if no others came. */
  inLine() {
    const line = this.coresIn(isWaiting);
    const {policy, order, cores} = this.design;
    const last = this.chip.lastAdmitted[0];
    if (policy === 'first-come') line.sort((a, b) => this.chip.requested[a] - this.chip.requested[b]);
    if (policy === 'priority') line.sort((a, b) => order.indexOf(a) - order.indexOf(b));
    if (policy === 'next-waiting') line.sort((a, b) => (a - last - 1 + cores) % cores - (b - last - 1 + cores) % cores);
    return line;
  }
}

function pinsText(mask, wanted) {
  const single = mask !== 0 && (mask & mask - 1) === 0;
  if (single && (wanted === 0 || wanted === mask)) return `pin ${31 - Math.clz32(mask)} is ${wanted === 0 ? 'low' : 'high'}`;
  const hex = n => (n >>> 0).toString(16).toUpperCase();
  return `(pins and 0x${hex(mask)}) is 0x${hex(wanted)}`;
}

// ---- looking ahead and around ----

/** What is going to happen, as far as a block or two reach: for each core its next change of doing, and when. */
function lookAhead(chip) {
  const {recording, cores} = chip;
  const next = new Array(cores).fill(null);
  const later = new Array(cores).fill(-1);
  const still = core => chip.state[core] === IDLE || chip.state[core] === FAULT;
  let missing = 0;
  for (let core = 0; core < cores; core++) if (!still(core)) missing++;
  const far = Math.min(chip.blockNumber + 1, recording.blocks - 1);
  for (let number = chip.blockNumber; number <= far && missing > 0; number++) {
    const block = recording.block(number);
    for (let i = number === chip.blockNumber ? chip.next : 0; i < block.count && missing > 0; i++) {
      const core = block.core[i];
      if (core < 0 || next[core]) continue;
      if (block.kind[i] === STATE && later[core] < 0) later[core] = block.cycle[i];
      if (!ENDS.has(block.kind[i])) continue;
      next[core] = {kind: block.kind[i], cycle: block.cycle[i], a: block.a[i], b: block.b[i]};
      if (!still(core)) missing--;
    }
  }
  const atEnd = far + 1 >= recording.blocks;
  const over = chip.facts.ended && chip.cycle >= chip.facts.ended.cycle;
  // What would end behind the recording is known to the core that does it.
  const until = next.map((change, core) => over || still(core) ? -1
    : change ? change.cycle : later[core] >= 0 ? later[core] : atEnd ? chip.facts.due[core] : -1);
  return {next, until, to: atEnd ? chip.facts.to + 1 : recording.firstCycle(far + 1)};
}

/** The nearest cycle after (or before) this one with a change that is looked for, or -1. */
function nearest(chip, forward, test) {
  const {recording} = chip;
  let number = chip.blockNumber;
  for (; number >= 0 && number < recording.blocks; number += forward ? 1 : -1) {
    const block = recording.block(number);
    if (forward) {
      for (let i = number === chip.blockNumber ? chip.next : 0; i < block.count; i++) {
        if (test(block.kind[i], block.core[i], block.a[i])) return block.cycle[i];
      }
    } else {
      for (let i = (number === chip.blockNumber ? chip.next : block.count) - 1; i >= 0; i--) {
        if (block.cycle[i] < chip.cycle && test(block.kind[i], block.core[i], block.a[i])) return block.cycle[i];
      }
    }
  }
  return -1;
}

/** The pieces of a core's lane from a cycle on, up to another: {cycle, end, state, begins}. */
function pieces(chip, core, from, to) {
  const {recording, facts} = chip;
  const found = [];
  const last = facts.ended ? facts.ended.cycle : facts.to + 1;
  const end = Math.min(to, last);
  const add = (cycle, state, begins) => {
    const before = found[found.length - 1];
    if (before && !begins && before.state === state) return;
    if (before && before.cycle === cycle) found.pop();
    if (before && before !== found[found.length - 1] && before.begins && state === before.state) begins = true;
    found.push({cycle, end: 0, state, begins});
  };
  if (from <= facts.from) add(facts.from, chip.startState[core], chip.startBegun[core] === facts.from);
  for (let number = recording.blockAt(Math.max(from, recording.firstCycle(0))); number < recording.blocks; number++) {
    if (recording.firstCycle(number) >= end) break;
    const lane = recording.block(number).lanes[core];
    // The last piece that begins before the stretch is the first one wanted.
    let low = 0;
    let high = lane.length / 2 - 1;
    while (low < high) {
      const middle = low + high + 1 >> 1;
      if (lane[2 * middle] <= from) low = middle; else high = middle - 1;
    }
    for (let i = 2 * low; i < lane.length && lane[i] < end; i += 2) add(lane[i], lane[i + 1] & 15, lane[i + 1] > 15);
  }
  for (let i = 0; i < found.length; i++) {
    found[i].end = i + 1 < found.length ? found[i + 1].cycle : end;
  }
  return found.filter(piece => piece.end > from && piece.end > piece.cycle);
}

/** The pins from a cycle on, up to another: {cycle, levels, clashes}. */
function pinPieces(chip, from, to) {
  const {recording, facts} = chip;
  const found = [];
  for (let number = recording.blockAt(Math.max(from, recording.firstCycle(0))); number < recording.blocks; number++) {
    if (recording.firstCycle(number) >= to) break;
    const pins = recording.block(number).pins;
    let low = 0;
    let high = pins.length / 3 - 1;
    while (low < high) {
      const middle = low + high + 1 >> 1;
      if (pins[3 * middle] <= from) low = middle; else high = middle - 1;
    }
    for (let i = 3 * low; i < pins.length && pins[i] < to; i += 3) {
      found.push({cycle: pins[i], levels: pins[i + 1], clashes: pins[i + 2]});
    }
  }
  if (from <= facts.from && found.length) found[0].cycle = facts.from;
  return found;
}

// ---- the page ----

const byId = id => document.getElementById(id);

function element(name, attributes, ...children) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes || {})) made.setAttribute(key, value);
  made.append(...children);
  return made;
}

function drawn(name, attributes, text) {
  const made = document.createElementNS('http://www.w3.org/2000/svg', name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  if (text !== undefined) made.textContent = text;
  return made;
}

/** Sets a text only where it is another, which is much faster. */
function say(target, text) {
  if (target.firstChild && target.firstChild === target.lastChild && target.firstChild.nodeType === 3) {
    if (target.firstChild.data !== text) target.firstChild.data = text;
  } else if (target.textContent !== text) {
    target.textContent = text;
  }
}

function toggle(target, name, on) {
  if (target.classList.contains(name) !== on) target.classList.toggle(name, on);
}

/** A number as it stands in a table. */
const short = n => n < 100000 ? String(n) : n < 1e7 ? `${Math.floor(n / 1000)}k` : n < 1e10 ? `${Math.floor(n / 1e6)}M` : `${Math.floor(n / 1e9)}G`;

function written(word, base) {
  if (base === 16) return `0x${(word >>> 0).toString(16).toUpperCase().padStart(8, '0')}`;
  if (base === 2) return (word >>> 0).toString(2).padStart(32, '0').replace(/(.{8})(?!$)/g, '$1 ');
  return String(word).replace('-', '\u2212');
}

const LETTERS = ['', 'w', 'S', 'c', 'C', 'l', 'L', 'z', '', '!'];
const CELL = 9;
const LANE = 28;
const MOST_LINES = 2000;
const MEMORY_ROWS = 12;
const STALL_ROWS = 10;
const TALLY_MODES = ['off', 'cycles', 'rising', 'falling', 'high', 'low', 'pulse'];

/** A piece of a lane as a path: what works or holds the memory is high, what waits is low. */
function piecePath(piece, x, width) {
  const w = Math.max(0.5, width - (width > 3 ? 1 : 0));
  switch (piece.state) {
    case WORK:
      return piece.begins && width > 4
        ? `M${x + 0.5} 4.5h${w - 0.5}v19h${w < 1 ? -w : -(w - 0.5)}l3 -9.5z` : `M${x + 0.5} 4.5h${w - 0.5}v19h${-(w - 0.5)}z`;
    case WAIT:
    case CODE_WAIT:
    case LOAD_WAIT:
    case SLEEP:
      return `M${x + 0.5} 9.5h${w - 0.5}v14h${-(w - 0.5)}z`;
    case IDLE:
      return `M${x} 17.5h${w}`;
    default:
      return `M${x + 0.5} 4.5h${w - 0.5}v19h${-(w - 0.5)}z`;
  }
}

class Page {
  constructor(facts, bytes) {
    this.facts = facts;
    this.design = facts.design;
    this.recording = new Recording(bytes, facts.index, facts.design.cores);
    this.chip = new Chip(facts, this.recording);
    this.words = new Words(facts, this.chip);
    this.core = Math.max(0, this.chip.state.findIndex(state => state !== IDLE));
    this.base = 10;
    this.zoom = 1;
    this.playing = false;
    this.aim = -1;
    this.look = {shared: {top: 0, follow: true}, private: {top: 0, follow: true}};
    this.firstLine = 1;
    this.build();
    this.listen();
    this.show();
    this.follow();
  }

  /** Goes where the address says: page.html#cycle=57&core=5. */
  follow() {
    const wanted = new URLSearchParams(location.hash.slice(1));
    const number = name => /^[0-9]{1,16}$/.test(wanted.get(name) || '') ? Number(wanted.get(name)) : -1;
    if (number('core') >= 0) this.choose(number('core'));
    if (number('cycle') >= 0) this.go(number('cycle'));
  }

  // What stands on the page from the beginning.

  build() {
    const {facts, design} = this;
    const name = visible(facts.program);
    document.title = `${name}: a run, cycle by cycle`;
    say(byId('name'), `${name} \u00b7 ${visible(design.name)}`);
    const span = facts.from === 0 && facts.ended ? `the whole run, ${facts.to} cycles`
      : `cycles ${facts.from} to ${facts.to}${facts.ended ? ', the end of the run' : '; the run goes on'}`;
    say(byId('about'), `Recorded: ${span}. ${design.cores} cores, ${this.policyText()}, clock ${design.hertz / 1e6} MHz.`);
    const slider = byId('slider');
    slider.min = facts.from;
    slider.max = facts.to;
    slider.value = facts.from;
    byId('cycle').min = facts.from;
    byId('cycle').max = facts.to;
    byId('cycle').value = facts.from;
    this.buildCores();
    this.buildSource();
    this.buildRegisters();
    this.buildMemory('shared', design.sharedWords);
    this.buildMemory('private', design.privateWords);
    this.buildStalls();
    this.buildStates();
    this.buildPins();
    this.buildLegend();
    this.buildKeys();
    byId('main').hidden = false;
  }

  policyText() {
    const {design} = this;
    return design.policy === 'rotation'
      ? `in rotation, slots of ${cyclesText(design.slotCycles)}` : `policy ${design.policy}, ${cyclesText(design.slotCycles)} an access`;
  }

  buildCores() {
    this.coreRows = [];
    for (let core = 0; core < this.design.cores; core++) {
      const radio = element('input', {type: 'radio', name: 'core', value: core, 'aria-label': `look at core ${core}`});
      radio.checked = core === this.core;
      const svg = drawn('svg', {'aria-hidden': 'true', focusable: 'false'});
      const cells = {state: element('td', {role: 'cell'}), since: element('td', {role: 'cell', class: 'n'}),
        left: element('td', {role: 'cell', class: 'n'}), doing: element('td', {role: 'cell', class: 'code'})};
      const row = element('tr', {role: 'row'}, element('td', {role: 'cell'}, element('label', {}, radio, String(core))),
          element('td', {role: 'cell', class: 'lane'}, svg), cells.state, cells.since, cells.left, cells.doing);
      radio.addEventListener('change', () => this.choose(core));
      svg.addEventListener('click', event => {
        const cycle = this.left + Math.floor(event.offsetX / CELL * this.zoom);
        this.choose(core);
        this.go(cycle);
      });
      byId('cores').append(row);
      this.coreRows.push({row, radio, svg, ...cells});
    }
  }

  buildSource() {
    this.lineCount = this.facts.source.length;
    this.sourceRows = [];
    const rows = Math.min(this.lineCount, MOST_LINES);
    for (let i = 0; i < rows; i++) {
      const cells = {here: element('td', {class: 'mark'}), line: element('td', {class: 'n weak'}),
        cycles: element('td', {class: 'n'}), waits: element('td', {class: 'n'}), text: element('td', {class: 'code'})};
      const row = element('tr', {}, ...Object.values(cells));
      byId('source').append(row);
      this.sourceRows.push({row, others: element('span', {class: 'others'}), ...cells});
    }
    this.fillSource(1);
  }

  /** Very long programs are shown in part. */
  fillSource(first) {
    this.firstLine = first;
    this.sourceRows.forEach((row, i) => {
      say(row.line, String(first + i));
      const text = visible(this.facts.source[first + i - 1]);
      const comment = commentAt(text);
      row.text.textContent = '';
      row.text.append(row.others, text.slice(0, comment));
      if (comment < text.length) row.text.append(element('span', {class: 'note'}, text.slice(comment)));
    });
  }

  buildRegisters() {
    this.registerCells = [];
    const body = byId('registers');
    for (let r = 0; r < 8; r++) {
      const row = element('tr');
      for (const number of [r, r + 8]) {
        const value = element('td', {class: 'value'});
        row.append(element('th', {scope: 'row'}, `r${number}`), value);
        this.registerCells[number] = value;
      }
      body.append(row);
    }
    this.portCells = [];
    for (const name of ['out', 'drive', 'tally 0', 'tally 1']) {
      const value = element('td', {class: 'code', colspan: '3'});
      body.append(element('tr', {}, element('th', {scope: 'row'}, name), value));
      this.portCells.push(value);
    }
  }

  buildMemory(which, size) {
    const look = this.look[which];
    const said = which === 'shared' ? 'shared memory' : 'private RAM';
    look.size = size;
    look.rows = [];
    const top = element('input', {type: 'number', min: 0, max: size - 1, value: 0, id: `${which}-top`, inputmode: 'numeric'});
    const names = element('select', {'aria-label': `a name in ${said}`});
    const back = element('button', {type: 'button', 'aria-label': `earlier words of ${said}`}, '\u2191');
    const on = element('button', {type: 'button', 'aria-label': `later words of ${said}`}, '\u2193');
    const follow = element('input', {type: 'checkbox'});
    follow.checked = true;
    const move = address => {
      look.top = Math.max(0, Math.min(size - MEMORY_ROWS, address));
      look.follow = follow.checked = false;
      this.showMemories();
    };
    top.addEventListener('change', () => move(Math.floor(Number(top.value)) || 0));
    back.addEventListener('click', () => move(look.top - MEMORY_ROWS));
    on.addEventListener('click', () => move(look.top + MEMORY_ROWS));
    names.addEventListener('change', () => {
      if (names.value !== '') move(Number(names.value));
    });
    follow.addEventListener('change', () => {
      look.follow = follow.checked;
      this.showMemories();
    });
    byId(`${which}-look`).append(element('label', {for: `${which}-top`}, 'from word'), top, back, on, names,
        element('label', {}, follow, 'follow the core'));
    Object.assign(look, {topField: top, names, namesOf: -2});
    for (let i = 0; i < Math.min(MEMORY_ROWS, size); i++) {
      const cells = {address: element('td', {class: 'n'}), name: element('td'), value: element('td', {class: 'n value'}), who: element('td', {class: 'who'})};
      byId(which).append(element('tr', {}, ...Object.values(cells)));
      look.rows.push(cells);
    }
  }

  buildStalls() {
    this.stallRows = [];
    for (let i = 0; i < STALL_ROWS; i++) {
      const cells = {line: element('td', {class: 'n'}), waited: element('td', {class: 'n'}), times: element('td', {class: 'n'}),
        mean: element('td', {class: 'n'}), text: element('td')};
      const code = element('div', {class: 'code'});
      const bar = drawn('rect', {class: 'length', height: 4, width: '0%'});
      const svg = drawn('svg', {'aria-hidden': 'true', focusable: 'false'});
      svg.append(bar);
      cells.text.append(code, svg);
      const row = element('tr', {}, ...Object.values(cells));
      row.hidden = true;
      byId('stalls').append(row);
      this.stallRows.push({row, ...cells, code, bar});
    }
    this.since = this.facts.from === 0 ? '' : `Counted from cycle ${this.facts.from} on, where the recording begins.`;
    say(byId('source-note'), this.since);
    say(byId('states-note'), this.since);
  }

  buildStates() {
    this.stateRows = [];
    const head = element('tr', {}, element('th', {scope: 'col'}, 'core'));
    this.stateHeads = STATES.map(state => element('th', {scope: 'col', class: 'n'}, state));
    head.append(...this.stateHeads);
    byId('states-head').append(head);
    for (let core = 0; core < this.design.cores; core++) {
      const cells = STATES.map(() => element('td', {class: 'n'}));
      const row = element('tr', {}, element('th', {scope: 'row'}, String(core)), ...cells);
      byId('states').append(row);
      this.stateRows.push({row, cells});
    }
  }

  buildPins() {
    this.pinRows = [];
    const unused = [];
    for (let pin = 0; pin < this.design.pins; pin++) {
      if (!(this.facts.pinsInUse >>> pin & 1)) {
        unused.push(pin);
        continue;
      }
      const svg = drawn('svg', {'aria-hidden': 'true', focusable: 'false'});
      const cells = {level: element('td'), by: element('td')};
      byId('pins').append(element('tr', {}, element('th', {scope: 'row', class: 'n'}, String(pin)),
          element('td', {class: 'lane'}, svg), cells.level, cells.by));
      this.pinRows.push({pin, svg, ...cells});
    }
    byId('pins').parentElement.hidden = !this.pinRows.length;
    say(byId('pins-note'), !this.design.pins ? 'This chip has no pins.'
      : !this.pinRows.length ? `None of the ${this.design.pins} pins is used.`
        : unused.length ? `Never used: ${unused.length === 1 ? 'pin' : 'pins'} ${unused.join(', ')}.` : '');
  }

  buildLegend() {
    const samples = [['an instruction works', WORK], ['waits for its turn', WAIT], ['its slot', SLOT], ['waits for code', CODE_WAIT],
      ['code slot', CODE_SLOT], ['waits to load', LOAD_WAIT], ['load slot', LOAD_SLOT], ['sleeps', SLEEP], ['idle', IDLE], ['in fault', FAULT]];
    for (const [text, state] of samples) {
      const svg = drawn('svg', {'aria-hidden': 'true', focusable: 'false', viewBox: '0 0 38 28'});
      svg.append(drawn('path', {class: `s${state}`, d: piecePath({state, begins: true}, 1, 36)}));
      svg.append(drawn('text', {class: `t${state}`, x: 15, y: isWaiting(state) || state === SLEEP ? 20.5 : 18}, LETTERS[state]));
      byId('legend').append(element('span', {}, svg, text));
    }
    byId('legend').append(element('span', {}, this.words.rotation
      ? 'Above the lanes: whose turn it is, and who holds the memory.' : 'Above the lanes: who holds the memory.'));
  }

  buildKeys() {
    for (const [keys, text] of KEY_TEXTS) {
      const names = keys.split(' ').map(key => element('kbd', {}, key));
      byId('key-list').append(element('dt', {}, ...names.flatMap((key, i) => i ? [' ', key] : [key])), element('dd', {}, text));
    }
  }

  // What changes from cycle to cycle.

  /** Everything, for the present cycle. */
  show() {
    const {chip} = this;
    this.ahead = lookAhead(chip);
    this.fit();
    this.showSaid();
    this.showCores();
    this.showRuler();
    this.showSource();
    this.showRegisters();
    this.showMemories();
    this.showStalls();
    this.showStates();
    this.showPins();
  }

  /** How many cycles there is room for, and which. */
  fit() {
    const width = byId('ruler').clientWidth || 600;
    this.width = width;
    this.shown = Math.max(8, Math.floor(width / CELL)) * this.zoom;
    const before = this.chip.cycle - Math.floor(this.shown / this.zoom * 0.4) * this.zoom;
    this.left = Math.max(Math.floor(this.facts.from / this.zoom) * this.zoom, before);
    this.scale = CELL / this.zoom;
  }

  x(cycle) {
    return (cycle - this.left) * this.scale;
  }

  showSaid() {
    const {chip} = this;
    const micros = chip.cycle / this.design.hertz * 1e6;
    say(byId('when'), `Cycle ${chip.cycle}, ${micros.toFixed(3)} \u00b5s.`);
    say(byId('turn'), this.words.turn());
    say(byId('sentence'), visible(this.words.of(this.core, this.ahead)));
    const slider = byId('slider');
    if (Number(slider.value) !== chip.cycle) slider.value = chip.cycle;
    slider.setAttribute('aria-valuetext', `cycle ${chip.cycle} of ${this.facts.to}`);
    say(byId('place'), `${chip.cycle} of ${this.facts.to}`);
    for (const name of ['begin', 'back']) this.enable(name, chip.cycle > this.facts.from);
    for (const name of ['step', 'end', 'play']) this.enable(name, chip.cycle < this.facts.to);
  }

  /** A button that does nothing now keeps its focus, and says so. */
  enable(name, on) {
    document.querySelector(`[data-do=${name}]`).setAttribute('aria-disabled', String(!on));
  }

  showCores() {
    const {chip, words, ahead} = this;
    const now = chip.cycle;
    this.coreRows.forEach((row, core) => {
      const state = chip.state[core];
      toggle(row.row, 'chosen', core === this.core);
      if (row.radio.checked !== (core === this.core)) row.radio.checked = core === this.core;
      const since = isWaiting(state) ? chip.requested[core] : state === WORK && chip.everBegun[core] ? chip.begun[core] : chip.since[core];
      const still = state === IDLE || state === FAULT;
      say(row.state, STATES[state]);
      say(row.since, short(now - since));
      say(row.left, still || words.ended() ? '' : ahead.until[core] < 0 ? '?' : short(ahead.until[core] - now));
      say(row.doing, this.doing(core));
      this.drawLane(row.svg, core);
    });
  }

  doing(core) {
    const state = this.chip.state[core];
    if (state === FAULT) return this.facts.messages[this.chip.message[core]][0];
    if (state === IDLE) return '';
    if (state === LOAD_WAIT || state === LOAD_SLOT) return 'is being started';
    const line = this.words.line(core);
    return visible(line ? `${line}: ${this.words.instruction(core)}` : this.words.instruction(core));
  }

  ground(height) {
    const from = Math.max(0, this.x(this.facts.from));
    const now = this.x(this.chip.cycle);
    const parts = [];
    if (now > from) parts.push(drawn('rect', {class: 'past', x: from, y: 0, width: now - from, height}));
    return {parts, line: drawn('line', {class: 'now', x1: now, x2: now, y1: 0, y2: height})};
  }

  drawLane(svg, core) {
    const {parts, line} = this.ground(LANE);
    const paths = new Array(10).fill('');
    const texts = [];
    const right = this.left + this.shown + this.zoom;
    for (const piece of pieces(this.chip, core, this.left, right)) {
      const from = Math.max(piece.cycle, this.left - 1);
      const x = this.x(from);
      const width = (Math.min(piece.end, right) - from) * this.scale;
      paths[piece.state] += piecePath(piece, x, width);
      const letter = LETTERS[piece.state];
      if (letter && width >= CELL - 1) {
        const length = piece.end - piece.cycle;
        const room = x + width - Math.max(x, 0);
        if (room < CELL - 1) continue;
        const text = room > 8 + 7 * `${letter} ${length}`.length && (isWaiting(piece.state) || piece.state === SLEEP) && piece.end < right ? `${letter} ${length}` : letter;
        texts.push(drawn('text', {class: `t${piece.state}`, x: Math.max(x, 0) + 2, y: isWaiting(piece.state) || piece.state === SLEEP ? 20.5 : 18}, text));
      }
    }
    paths.forEach((d, state) => {
      if (d) parts.push(drawn('path', {class: `s${state}`, d}));
    });
    svg.replaceChildren(...parts, ...texts, line);
  }

  showRuler() {
    const svg = byId('ruler');
    const {parts, line} = this.ground(50);
    const right = this.left + this.shown;
    const end = this.facts.ended ? this.facts.ended.cycle : this.facts.to + 1;
    const each = 10 * this.zoom;
    const now = this.chip.cycle;
    for (let cycle = Math.max(0, Math.ceil(this.left / each) * each); cycle < right; cycle += each) {
      const x = this.x(cycle);
      if (cycle < this.facts.from || cycle > this.facts.to || Math.abs(x - this.x(now)) < 64) continue;
      parts.push(drawn('text', {class: 'weak', x, y: 11}, String(cycle)));
    }
    parts.push(drawn('text', {class: 'strong', x: Math.max(0, this.x(now)) + 4, y: 11}, `now ${now}`));
    if (this.words.rotation && this.zoom < 16) {
      const slot = this.design.slotCycles;
      for (let cycle = Math.max(0, Math.floor(this.left / slot) * slot); cycle < Math.min(right, end); cycle += slot) {
        if (cycle + slot <= this.facts.from) continue;
        const owner = this.words.owner(cycle);
        const x = this.x(cycle);
        const width = slot * this.scale;
        parts.push(drawn('rect', {class: owner === this.core ? 'turn own' : 'turn', x: x + 0.5, y: 16.5, width: Math.max(1, width - 1), height: 14}));
        if (width >= 7 * String(owner).length + 1) {
          parts.push(drawn('text', {class: owner === this.core ? 'strong' : '', x: x + 2.5, y: 27.5}, String(owner)));
        }
      }
    }
    for (let core = 0; core < this.design.cores; core++) {
      for (const piece of pieces(this.chip, core, this.left, right)) {
        if (!isAdmitted(piece.state)) continue;
        const x = this.x(piece.cycle);
        const width = (piece.end - piece.cycle) * this.scale;
        parts.push(drawn('rect', {class: 'held', x: x + 0.5, y: 33.5, width: Math.max(0.7, width - 1), height: 14}));
        if (width >= 7 * String(core).length + 1) parts.push(drawn('text', {class: 't2', x: x + 2.5, y: 44.5}, String(core)));
      }
    }
    svg.replaceChildren(...parts, line);
  }

  showSource() {
    const {chip} = this;
    const present = this.words.line(this.core);
    if (this.lineCount > this.sourceRows.length && present
        && (present < this.firstLine || present >= this.firstLine + this.sourceRows.length)) {
      this.fillSource(Math.max(1, Math.min(this.lineCount - this.sourceRows.length + 1, present - this.sourceRows.length / 2)));
    }
    const all = byId('whose').value === 'all';
    const cores = all ? [...chip.state.keys()] : [this.core];
    const under = new Map();
    const waiting = new Map();
    const at = new Map();
    for (let core = 0; core < chip.cores; core++) {
      const state = chip.state[core];
      const line = this.words.line(core);
      if (!line || state === IDLE) continue;
      at.set(line, [...(at.get(line) || []), core]);
      if (!cores.includes(core)) continue;
      if (state !== FAULT && state !== LOAD_WAIT && state !== LOAD_SLOT) {
        under.set(line, (under.get(line) || 0) + chip.cycle - chip.counted[core]);
      }
      if (state === WAIT) waiting.set(line, (waiting.get(line) || 0) + chip.cycle - Math.max(chip.requested[core], this.facts.from));
    }
    let here = null;
    this.sourceRows.forEach((row, i) => {
      const line = this.firstLine + i;
      let cycles = under.get(line) || 0;
      let waits = waiting.get(line) || 0;
      for (const core of cores) {
        cycles += chip.lineCycles[core].get(line);
        waits += chip.lineWaits[core].get(line);
      }
      say(row.cycles, cycles ? short(cycles) : '');
      say(row.waits, waits ? short(waits) : '');
      const others = (at.get(line) || []).filter(core => core !== this.core).join(' ');
      const isHere = line === present;
      toggle(row.row, 'here', isHere);
      say(row.here, isHere ? '\u25b8' : '');
      say(row.others, others && `\u25c2 ${others}`);
      if (isHere) {
        row.row.setAttribute('aria-current', 'true');
        here = row.row;
      } else {
        row.row.removeAttribute('aria-current');
      }
    });
    if (here && here !== this.wasHere) {
      const box = byId('source-scroll');
      const top = here.offsetTop - 30;
      if (top < box.scrollTop || here.offsetTop + 40 > box.scrollTop + box.clientHeight) box.scrollTop = top - box.clientHeight / 3;
    }
    this.wasHere = here;
  }

  showRegisters() {
    const {chip, core} = this;
    say(byId('registers-title'), `Registers of core ${core}`);
    for (let r = 0; r < 16; r++) {
      const fresh = chip.written[16 * core + r] === chip.counted[core];
      say(this.registerCells[r], written(chip.registers[16 * core + r], this.base) + (fresh ? ' *' : '\u00a0\u00a0'));
    }
    const ports = 16 * core;
    const hex = port => `0x${(chip.ports[ports + port] >>> 0).toString(16).toUpperCase()}`;
    say(this.portCells[0], hex(1));
    say(this.portCells[1], hex(2));
    for (let tally = 0; tally < 2; tally++) {
      const base = ports + 8 + 4 * tally;
      const mode = chip.ports[base + 1];
      const kind = mode & 255;
      say(this.portCells[2 + tally], `${written(chip.tallyAt(core, tally, chip.cycle), this.base)}, ${TALLY_MODES[kind]}`
        + `${kind > 1 ? ` of pin ${mode >> 8 & 31}` : ''}${kind === 6 ? `, span ${chip.ports[base + 2] >>> 0}, level ${chip.ports[base + 3] >>> 0}` : ''}`);
    }
  }

  showMemories() {
    const {chip, core, words: names} = this;
    say(byId('private-title'), `Private RAM of core ${core}`);
    this.showMemory('shared', chip.shared, names.sharedLabels, -1, -1, address => names.sharedName(address));
    this.showMemory('private', chip.rams[core], names.privateLabels[core], core, core, address => names.privateLabels[core].get(address) || '');
  }

  showMemory(which, memory, labels, whose, namesOf, nameOf) {
    const {chip} = this;
    const look = this.look[which];
    if (look.namesOf !== namesOf) {
      look.namesOf = namesOf;
      look.names.replaceChildren(element('option', {value: ''}, 'name'),
          ...[...labels].map(([address, name]) => element('option', {value: address}, name)));
      look.names.disabled = labels.size === 0;
    }
    const touching = new Map();
    if (which === 'shared') {
      chip.state.forEach((state, core) => {
        if ((isWaiting(state) || isAdmitted(state)) && chip.asked[core] !== -1) {
          const cores = touching.get(chip.asked[core]) || {has: [], waits: []};
          (isAdmitted(state) ? cores.has : cores.waits).push(core);
          touching.set(chip.asked[core], cores);
        }
      });
    }
    const fresh = new Set();
    for (let i = 0; i < chip.fresh.length; i += 2) if (chip.fresh[i] === whose) fresh.add(chip.fresh[i + 1]);
    if (look.follow) {
      const state = chip.state[this.core];
      const own = which === 'private' ? [...fresh][0] : isWaiting(state) || isAdmitted(state) ? chip.asked[this.core] : undefined;
      if (own !== undefined && own >= 0 && (own < look.top || own >= look.top + MEMORY_ROWS)) look.top = own - 4;
    }
    look.top = Math.max(0, Math.min(look.size - look.rows.length, look.top));
    if (document.activeElement !== look.topField) look.topField.value = look.top;
    look.rows.forEach((row, i) => {
      const address = look.top + i;
      say(row.address, String(address));
      say(row.name, nameOf(address));
      say(row.value, written(memory.get(address), this.base) + (fresh.has(address) ? ' *' : '\u00a0\u00a0'));
      const {has, waits} = touching.get(address) || {has: [], waits: []};
      say(row.who, [has.length ? `${has.join(' ')} ${has.length > 1 ? 'have' : 'has'} it` : '',
        waits.length ? `${waits.join(' ')} ${waits.length > 1 ? 'wait' : 'waits'}` : ''].filter(text => text).join(', '));
    });
  }

  showStalls() {
    const {chip} = this;
    const waits = new Map();
    for (let core = 0; core < chip.cores; core++) {
      const {pages} = chip.lineWaits[core];
      pages.forEach((page, p) => {
        if (!page) return;
        for (let i = 0; i < PAGE; i++) {
          const times = chip.lineTimes[core].get(p * PAGE + i);
          if (!times) continue;
          const entry = waits.get(p * PAGE + i) || [0, 0];
          waits.set(p * PAGE + i, [entry[0] + page[i], entry[1] + times]);
        }
      });
    }
    const sorted = [...waits].sort((a, b) => b[1][0] - a[1][0] || a[0] - b[0]).slice(0, STALL_ROWS);
    const most = sorted.length ? Math.max(1, sorted[0][1][0]) : 1;
    this.stallRows.forEach((row, i) => {
      row.row.hidden = i >= sorted.length;
      if (i >= sorted.length) return;
      const [line, [waited, times]] = sorted[i];
      say(row.line, String(line));
      say(row.waited, short(waited));
      say(row.times, short(times));
      say(row.mean, (waited / times).toFixed(1));
      say(row.code, visible(codeOf(this.facts.source[line - 1])));
      row.bar.setAttribute('width', `${Math.round(100 * waited / most)}%`);
    });
    say(byId('stalls-note'), sorted.length ? `Cycles that accesses waited so far. ${this.since}` : `No access has been admitted so far. ${this.since}`);
  }

  showStates() {
    const {chip} = this;
    STATES.forEach((_, state) => {
      let any = false;
      this.stateRows.forEach((row, core) => {
        const cycles = chip.cyclesIn(core, state);
        any = any || cycles > 0;
        say(row.cells[state], String(cycles));
      });
      this.stateHeads[state].hidden = !any;
      this.stateRows.forEach(row => {
        row.cells[state].hidden = !any;
      });
    });
    this.stateRows.forEach((row, core) => toggle(row.row, 'chosen', core === this.core));
  }

  showPins() {
    const {chip} = this;
    if (!this.pinRows.length) return;
    const right = Math.min(this.left + this.shown, this.facts.ended ? this.facts.ended.cycle : this.facts.to + 1);
    const stretch = pinPieces(chip, this.left, right);
    for (const row of this.pinRows) {
      const clash = chip.pins[1] >>> row.pin & 1;
      say(row.level, `${chip.pins[0] >>> row.pin & 1 ? 'high' : 'low'}${clash ? ', clash!' : ''}`);
      const by = [];
      for (let core = 0; core < chip.cores; core++) if (chip.ports[16 * core + 2] >>> row.pin & 1) by.push(`core ${core}`);
      const given = this.facts.given.find(it => it[0] === row.pin);
      if (given && given[1] <= chip.cycle) by.push('the outside');
      say(row.by, by.join(', '));
      const {parts, line} = this.ground(LANE);
      let d = '';
      let clashes = '';
      stretch.forEach((piece, i) => {
        const from = Math.max(piece.cycle, this.left - 1);
        const end = i + 1 < stretch.length ? stretch[i + 1].cycle : right;
        const y = piece.levels >>> row.pin & 1 ? 6 : 22;
        d += `${i ? 'L' : 'M'}${this.x(from)} ${y}H${this.x(end)}`;
        if (piece.clashes >>> row.pin & 1) clashes += `M${this.x(from)} 2H${this.x(end)}V26H${this.x(from)}z`;
      });
      if (clashes) parts.push(drawn('path', {class: 's9', d: clashes}));
      if (d) parts.push(drawn('path', {class: 'wave', d}));
      row.svg.replaceChildren(...parts, line);
    }
  }

  // What a reader does.

  choose(core) {
    if (core < 0 || core >= this.design.cores) return;
    this.core = core;
    this.show();
  }

  /** Goes to a cycle; on a long way the page stays alive, and what is asked for later goes before. */
  go(cycle, then) {
    this.aim = Math.max(this.facts.from, Math.min(this.facts.to, cycle));
    this.then = then;
    if (!this.travelling) this.travel();
  }

  travel() {
    this.travelling = true;
    const there = this.chip.moveTo(this.aim, 12);
    if (there) {
      this.travelling = false;
      document.body.removeAttribute('aria-busy');
      this.show();
      if (this.then) this.then();
      return;
    }
    document.body.setAttribute('aria-busy', 'true');
    const {from, to} = this.facts;
    say(byId('place'), `${Math.floor(100 * (this.chip.cycle - from) / Math.max(1, to - from))} % read`);
    setTimeout(() => this.travel(), 0);
  }

  get target() {
    return this.travelling ? this.aim : this.chip.cycle;
  }

  test(goal) {
    const own = this.core;
    switch (goal) {
      case 'instruction':
        return (kind, core) => kind === BEGIN && core === own;
      case 'request':
        return (kind, core) => kind === REQUEST && core === own;
      case 'admission':
        return (kind, core) => kind === ADMIT && core === own;
      case 'anyAdmission':
        return kind => kind === ADMIT;
      case 'pin':
        return kind => kind === PINS;
      case 'write':
        return kind => kind === SHARED;
      default:
        return kind => kind === GO_FAULT || kind === GO_IDLE;
    }
  }

  seek(goal, forward) {
    if (this.travelling) return;
    const now = this.chip.cycle;
    if (goal === 'slot' || goal === 'rotation') {
      const each = this.design.slotCycles * (goal === 'slot' ? 1 : this.words.rotation ? this.words.rotation.length : this.design.cores);
      if (this.words.rotation || goal === 'rotation') {
        this.go(goal === 'rotation' ? now + (forward ? each : -each)
          : forward ? (Math.floor(now / each) + 1) * each : (Math.ceil(now / each) - 1) * each);
        return;
      }
      goal = 'anyAdmission';
    }
    const cycle = nearest(this.chip, forward, this.test(goal));
    if (cycle < 0) {
      say(byId('sentence'), forward ? 'There is none after this cycle in the recording.' : 'There is none before this cycle in the recording.');
    } else {
      this.go(cycle);
    }
  }

  play() {
    if (this.playing) {
      this.pause();
      return;
    }
    if (this.target >= this.facts.to) return;
    this.playing = true;
    say(byId('play'), 'Pause');
    // Nobody can listen as fast as this goes; what is there is said when it comes to rest.
    byId('said').setAttribute('aria-live', 'off');
    let last = performance.now();
    let owed = 0;
    const frame = time => {
      if (!this.playing) return;
      owed += Math.max(0, time - last) / 1000 * Number(byId('speed').value);
      last = time;
      const cycles = Math.floor(owed);
      if (cycles > 0 && !this.travelling) {
        owed -= cycles;
        this.go(this.chip.cycle + cycles);
        if (this.target >= this.facts.to) {
          this.pause();
          return;
        }
      }
      requestAnimationFrame(frame);
    };
    requestAnimationFrame(frame);
  }

  pause() {
    if (!this.playing) return;
    this.playing = false;
    say(byId('play'), 'Play');
    byId('said').setAttribute('aria-live', 'polite');
    // Written anew, it is read out.
    for (const id of ['when', 'turn', 'sentence']) byId(id).textContent = '';
    this.showSaid();
  }

  faster(by) {
    const speed = byId('speed');
    speed.selectedIndex = Math.max(0, Math.min(speed.options.length - 1, speed.selectedIndex + by));
  }

  act(name) {
    if (name !== 'play' && !name.startsWith('speed')) this.pause();
    switch (name) {
      case 'begin':
        return this.go(this.facts.from);
      case 'end':
        return this.go(this.facts.to);
      case 'back':
        return this.go(this.target - 1);
      case 'step':
        return this.go(this.target + 1);
      case 'play':
        return this.play();
      case 'goal-on':
        return this.seek(byId('goal').value, true);
      case 'goal-back':
        return this.seek(byId('goal').value, false);
      case 'speed+':
        return this.faster(1);
      case 'speed-':
        return this.faster(-1);
      case 'up':
        return this.choose(this.core - 1);
      case 'down':
        return this.choose(this.core + 1);
      case 'base': {
        const base = byId('base');
        base.selectedIndex = (base.selectedIndex + 1) % base.options.length;
        this.base = Number(base.value);
        return this.show();
      }
      case 'cycle':
        byId('cycle').focus();
        return byId('cycle').select();
      case 'keys':
        byId('keys').open = true;
        return byId('keys').querySelector('summary').focus();
      default: {
        const [goal, way] = name.split(' ');
        return this.seek(goal, way === 'on');
      }
    }
  }

  listen() {
    for (const button of document.querySelectorAll('[data-do]')) {
      button.addEventListener('click', () => this.act(button.dataset.do));
    }
    byId('slider').addEventListener('input', event => {
      this.pause();
      this.go(Number(event.target.value));
    });
    byId('go').addEventListener('submit', event => {
      event.preventDefault();
      this.pause();
      const cycle = Math.floor(Number(byId('cycle').value));
      if (Number.isFinite(cycle)) this.go(cycle);
    });
    byId('zoom').addEventListener('change', event => {
      this.zoom = Number(event.target.value);
      this.show();
    });
    byId('base').addEventListener('change', event => {
      this.base = Number(event.target.value);
      this.show();
    });
    byId('whose').addEventListener('change', () => this.showSource());
    document.addEventListener('keydown', event => this.key(event));
    window.addEventListener('hashchange', () => this.follow());
    window.addEventListener('resize', () => this.show());
    window.addEventListener('beforeprint', () => this.show());
  }

  key(event) {
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    const {target} = event;
    const single = event.key.length === 1 && event.key !== ' ';
    if (single && !byId('letters').checked) return;
    const types = target.matches('input[type=number], select, textarea');
    if (types) return;
    const own = {ArrowLeft: 1, ArrowRight: 1, ArrowUp: 1, ArrowDown: 1, Home: 1, End: 1, ' ': 1, PageUp: 1, PageDown: 1};
    if (own[event.key]) {
      if (target.matches('input[type=range]') && event.key !== ' ') return;
      if (target.matches('input[type=radio]') && event.key !== 'Home' && event.key !== 'End') return;
      if (event.key === ' ' && target.matches('button, summary, input')) return;
      if (target.id === 'source-scroll' && event.key !== 'ArrowLeft' && event.key !== 'ArrowRight') return;
    }
    if (/^[0-9]$/.test(event.key)) {
      this.choose(Number(event.key));
    } else if (KEYS[event.key]) {
      this.act(KEYS[event.key]);
    } else {
      return;
    }
    event.preventDefault();
  }
}

const KEYS = {
  ArrowLeft: 'back', ArrowRight: 'step', Home: 'begin', End: 'end', ' ': 'play', ArrowUp: 'up', ArrowDown: 'down',
  i: 'instruction on', I: 'instruction back', s: 'slot on', S: 'slot back', r: 'rotation on', R: 'rotation back',
  w: 'request on', W: 'request back', a: 'admission on', A: 'admission back', p: 'pin on', P: 'pin back',
  f: 'fault on', F: 'fault back', '+': 'speed+', '-': 'speed-', x: 'base', g: 'cycle', '?': 'keys',
};

const KEY_TEXTS = [
  ['\u2190 \u2192', 'a cycle back, a cycle on'],
  ['Home End', 'to the beginning, to the end of the recording'],
  ['Space', 'play, pause'],
  ['+ -', 'play faster, slower'],
  ['\u2191 \u2193 0 .. 9', 'choose a core'],
  ['i I', 'on to where the core begins its next instruction, back to its last one'],
  ['s S', 'on to the next slot, back to the one before'],
  ['r R', 'a rotation on, back'],
  ['w W', 'on to the next request of the core, back to the last one'],
  ['a A', 'on to the next admission of the core, back to the last one'],
  ['p P', 'on to the next change of a pin, back to the last one'],
  ['f F', 'on to where a core is next in fault or idle, back'],
  ['g', 'type a cycle to go to'],
  ['x', 'numbers in decimal, hexadecimal, binary'],
  ['?', 'these keys'],
];

/** Where a line's comment begins. */
function commentAt(line) {
  let quote = '';
  for (let i = 0; i < line.length; i++) {
    const c = line[i];
    if (quote) {
      if (c === '\\') i++; else if (c === quote) quote = '';
    } else if (c === '"' || c === "'") {
      quote = c;
    } else if (c === ';') {
      return i;
    }
  }
  return line.length;
}

/** A line without its comment and the blanks around it. */
const codeOf = line => line.slice(0, commentAt(line)).trim().replace(/\s+/g, ' ');

try {
  const facts = JSON.parse(byId('facts').textContent);
  const page = new Page(facts, fromBase64(byId('recording').textContent.trim()));
  // For scripts that want to know what the page knows.
  document.octurn = page;
} catch (error) {
  byId('trouble').hidden = false;
  say(byId('trouble'), `This page cannot show its recording: ${error.message}. Was the file changed on its way?`);
}

})();
