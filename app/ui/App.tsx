import { useSession } from '../document';
import { Incoming } from './Incoming';
import { NoticeDialog } from './NoticeDialog';
import { Start } from './Start';
import { Work } from './Work';

/** The start screen, or the work; over both, files that are dropped or pasted, and messages. */
export function App() {
  const open = useSession((s) => s.document !== null);
  // A new document starts with fresh screens: nothing half-typed is carried over.
  const id = useSession((s) => s.documentId);
  return (
    <>
      {open ? <Work key={id} /> : <Start />}
      <Incoming />
      <NoticeDialog />
    </>
  );
}
