import {
  Hand,
  Link2,
  ListChecks,
  type LucideIcon,
  Maximize,
  MousePointer2,
  PenLine,
  Pentagon,
  Ruler,
  Shapes,
  Spline,
  ZoomIn,
  ZoomOut,
} from 'lucide-react';
import { useShallow } from 'zustand/react/shallow';
import { describeCommand, keyLabel, type PlainCommandId, runCommand } from '../commands';
import { type StepName, type ToolName, useSession } from '../document';

interface ToolButton {
  readonly tool: ToolName;
  readonly command: PlainCommandId;
  readonly icon: LucideIcon;
}

const tools: Readonly<Record<ToolName, ToolButton>> = {
  select: { tool: 'select', command: 'selectTool', icon: MousePointer2 },
  hand: { tool: 'hand', command: 'handTool', icon: Hand },
  pair: { tool: 'pair', command: 'pairTool', icon: Link2 },
  chain: { tool: 'chain', command: 'chainTool', icon: Spline },
  tape: { tool: 'tape', command: 'tapeTool', icon: Ruler },
  draw: { tool: 'draw', command: 'drawTool', icon: PenLine },
  outline: { tool: 'outline', command: 'outlineTool', icon: Shapes },
  offcut: { tool: 'offcut', command: 'offcutTool', icon: Pentagon },
};

/** The tools that a step needs; the others stay reachable by key. */
const toolsOf: Readonly<Record<StepName, readonly ToolName[]>> = {
  pattern: ['select', 'hand'],
  seams: ['select', 'hand', 'pair'],
  size: ['select', 'hand', 'chain', 'tape'],
  panels: ['select', 'hand', 'draw', 'outline'],
  foam: ['select', 'hand'],
  sheets: ['select', 'hand', 'offcut'],
  pages: ['select', 'hand'],
  build: ['select', 'hand'],
};

/** Steps whose choices are about several things at a time. */
const severalIn: ReadonlySet<StepName> = new Set(['seams', 'panels', 'foam']);

const zooms: readonly { readonly command: PlainCommandId; readonly icon: LucideIcon }[] = [
  { command: 'zoomIn', icon: ZoomIn },
  { command: 'zoomOut', icon: ZoomOut },
  { command: 'zoomFit', icon: Maximize },
];

/** The bar above the bench: the step's tools, and zooming. */
export function BenchTools() {
  const step = useSession((s) => s.step);
  const tool = useSession((s) => s.tool);
  const several = useSession((s) => s.several);
  return (
    <div className="bench-bar">
      <div role="toolbar" aria-label="Tools">
        {toolsOf[step].map((name) => (
          <BenchButton
            key={name}
            command={tools[name].command}
            icon={tools[name].icon}
            pressed={tool === name}
          />
        ))}
        {severalIn.has(step) ? <BenchButton command="several" icon={ListChecks} pressed={several} /> : null}
      </div>
      <div role="toolbar" aria-label="Zoom">
        {zooms.map((zoom) => (
          <BenchButton key={zoom.command} command={zoom.command} icon={zoom.icon} />
        ))}
      </div>
    </div>
  );
}

interface BenchButtonProps {
  readonly command: PlainCommandId;
  readonly icon: LucideIcon;
  /** Given for tools, which stay down. */
  readonly pressed?: boolean;
}

function BenchButton({ command, icon: Icon, pressed }: BenchButtonProps) {
  const words = useSession(useShallow((s) => describeCommand(command, s)));
  const key = words.key ? ` (${keyLabel(words.key)})` : '';
  return (
    <button
      type="button"
      className="bench-button"
      aria-label={words.label}
      title={`${words.label}${key}`}
      disabled={!words.enabled}
      {...(pressed === undefined ? {} : { 'aria-pressed': pressed })}
      onClick={() => runCommand(command)}
    >
      <Icon aria-hidden="true" size={18} />
      {pressed === undefined ? null : <span className="bench-button-name">{words.label}</span>}
    </button>
  );
}
