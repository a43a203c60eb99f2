import type { Reporter, TestModule } from 'vitest/node';

/** The engine in which a project's tests run: what each is named after, and Chromium for the rest of those in a browser. */
function engineOf(project: string): string {
  if (project === 'long firefox') return 'Firefox';
  if (project === 'long webkit') return 'WebKit';
  return ['node', 'node cores', 'studio', 'long doors'].includes(project) ? 'Node' : 'Chromium';
}

/** Says at the end of a run how many tests ran in each engine, and how many of them failed or were left out. */
export default class ByEngine implements Reporter {
  onTestRunEnd(modules: readonly TestModule[]): void {
    const counts = new Map<string, Record<'passed' | 'failed' | 'skipped' | 'pending', number>>();
    for (const module of modules) {
      const engine = engineOf(module.project.name);
      const count = counts.get(engine) ?? { passed: 0, failed: 0, skipped: 0, pending: 0 };
      for (const test of module.children.allTests()) count[test.result().state] += 1;
      counts.set(engine, count);
    }
    for (const [engine, { passed, failed, skipped, pending }] of counts)
      process.stdout.write(`${engine}: ${passed} passed, ${failed} failed, ${skipped + pending} skipped\n`);
  }
}
