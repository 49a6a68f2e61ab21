// The part of MicroPython's module that the engine uses; the package ships no types.
declare module "@micropython/micropython-webassembly-pyscript/micropython.mjs" {
  type MicroPython = {
    FS: {
      mkdir(path: string): void;
      writeFile(path: string, text: string): void;
      analyzePath(path: string): { exists: boolean };
    };
    pyimport(module: "gc"): { threshold: (bytes: number) => void };
    pyimport(module: string): { call: (text: string) => string };
  };
  export function loadMicroPython(options: {
    url: string;
    heapsize: number;
    pystack: number;
    stdout: (line: string) => void;
    stderr: (line: string) => void;
  }): Promise<MicroPython>;
}
