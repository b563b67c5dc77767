// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/shut/note_model.h"

#include "app/models/cells.h"
#include "app/models/data_table.h"

#include <algorithm>
#include <iterator>

namespace keyround {

QString wordFor(NoteWeight weight)
{
    switch (weight) {
    case NoteWeight::Fault:
        return QObject::tr("fault");
    case NoteWeight::Doubt:
        return QObject::tr("doubt");
    case NoteWeight::Said:
        break;
    }
    return QObject::tr("said");
}

NoteModel::NoteModel(Session &session, QObject *parent)
    : QAbstractTableModel(parent), m_session(session)
{
}

void NoteModel::load(std::optional<NetworkNoteKind> kind)
{
    beginResetModel();
    m_kind = kind;
    m_notes.clear();
    std::ranges::copy_if(m_session.network().report.notes, std::back_inserter(m_notes),
                         [&kind](const NetworkNote &note) { return !kind || note.kind == *kind; });
    endResetModel();
}

NetworkNote NoteModel::noteAt(int row) const
{
    return m_notes.at(static_cast<std::size_t>(row));
}

int NoteModel::rowOf(NetworkNoteKind kind, const QString &number) const
{
    const auto found = std::ranges::find_if(m_notes, [&](const NetworkNote &note) {
        return note.kind == kind && note.number == number;
    });
    return found == m_notes.end() ? -1 : static_cast<int>(found - m_notes.begin());
}

int NoteModel::rowCount(const QModelIndex &parent) const
{
    return parent.isValid() ? 0 : static_cast<int>(m_notes.size());
}

int NoteModel::columnCount(const QModelIndex &parent) const
{
    return parent.isValid() ? 0 : ColumnCount;
}

QVariant NoteModel::data(const QModelIndex &index, int role) const
{
    if (!index.isValid()) {
        return {};
    }
    const NetworkNote &note = m_notes[static_cast<std::size_t>(index.row())];
    if (role == Qt::TextAlignmentRole && index.column() == Distance) {
        return int(Qt::AlignRight | Qt::AlignVCenter);
    }
    const bool isText = role == Qt::DisplayRole;
    if (!isText && role != DataTable::sortRole) {
        return {};
    }
    switch (index.column()) {
    case Number:
        return isText ? note.number : naturalKey(note.number);
    case Weight:
        return isText ? QVariant(wordFor(note.weight)) : QVariant(static_cast<int>(note.weight));
    case Distance:
        return !isText           ? QVariant(note.metres)
               : note.metres > 0 ? QVariant(lengthText(Metres{note.metres}, m_session.units()))
                                 : QVariant();
    case Message:
        return note.message;
    default:
        return {};
    }
}

QVariant NoteModel::headerData(int section, Qt::Orientation orientation, int role) const
{
    if (orientation != Qt::Horizontal || role != Qt::DisplayRole) {
        return {};
    }
    const QString headings[]{tr("Number"), tr("Weight"), tr("How far off"), tr("What was found")};
    return headings[section];
}

} // namespace keyround
