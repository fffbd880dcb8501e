//! Doing a change to a pattern's JSON form, and undoing it: the whole is never copied.

use super::site::Edit;
use serde_json::Value;

/// How to undo an edit.
pub enum Undo {
    /// Nothing was done.
    Nothing,
    /// Put the old value back.
    Put(String, Value),
    /// The key was not written before.
    Forget(String),
    /// Put the item back into its list.
    Insert(String, usize, Value),
    /// Take the item out of its list.
    Remove(String, usize),
    /// Exchange the item and the next.
    Swap(String, usize),
}

/// Does an edit; one that leads nowhere does nothing.
pub fn do_it(root: &mut Value, edit: &Edit) -> Undo {
    match edit {
        Edit::Put(path, new) => {
            if let Some(place) = root.pointer_mut(path) {
                return Undo::Put(path.clone(), std::mem::replace(place, new.clone()));
            }
            let Some((parent, key)) = path.rsplit_once('/') else {
                return Undo::Nothing;
            };
            let Some(Value::Object(fields)) = root.pointer_mut(parent) else {
                return Undo::Nothing;
            };
            fields.insert(key.to_string(), new.clone());
            Undo::Forget(path.clone())
        }
        Edit::Drop(path) => on_list(root, path, |list, i| {
            (i < list.len())
                .then(|| list.remove(i))
                .map_or(Undo::Nothing, |old| Undo::Insert(list_of(path), i, old))
        }),
        Edit::Repeat(path) => on_list(root, path, |list, i| match list.get(i).cloned() {
            Some(item) => {
                list.insert(i, item);
                Undo::Remove(list_of(path), i)
            }
            None => Undo::Nothing,
        }),
        Edit::Swap(path) => on_list(root, path, |list, i| {
            if i + 1 >= list.len() {
                return Undo::Nothing;
            }
            list.swap(i, i + 1);
            Undo::Swap(list_of(path), i)
        }),
    }
}

/// Puts everything back.
pub fn undo(root: &mut Value, undo: Undo) {
    match undo {
        Undo::Nothing => {}
        Undo::Put(path, old) => {
            if let Some(place) = root.pointer_mut(&path) {
                *place = old;
            }
        }
        Undo::Forget(path) => {
            if let Some((parent, key)) = path.rsplit_once('/')
                && let Some(Value::Object(fields)) = root.pointer_mut(parent)
            {
                fields.remove(key);
            }
        }
        Undo::Insert(list, i, old) => {
            if let Some(Value::Array(list)) = root.pointer_mut(&list) {
                list.insert(i, old);
            }
        }
        Undo::Remove(list, i) => {
            if let Some(Value::Array(list)) = root.pointer_mut(&list) {
                list.remove(i);
            }
        }
        Undo::Swap(list, i) => {
            if let Some(Value::Array(list)) = root.pointer_mut(&list) {
                list.swap(i, i + 1);
            }
        }
    }
}

fn list_of(path: &str) -> String {
    path.rsplit_once('/')
        .map_or_else(String::new, |(list, _)| list.to_string())
}

fn on_list(root: &mut Value, path: &str, act: impl FnOnce(&mut Vec<Value>, usize) -> Undo) -> Undo {
    let Some((list, i)) = path.rsplit_once('/') else {
        return Undo::Nothing;
    };
    match (root.pointer_mut(list), i.parse()) {
        (Some(Value::Array(items)), Ok(i)) => act(items, i),
        _ => Undo::Nothing,
    }
}
