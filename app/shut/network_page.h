// SPDX-License-Identifier: GPL-3.0-or-later
// How the mains were read: what the building of the network found, by kind, each note shown on the
// map, with what can be decided about it.
#pragma once

#include "app/shell/session.h"
#include "app/shut/fresh_page.h"

class QLabel;

namespace keyround {

class BigButton;
class ButtonList;
class DataTable;
class FixPanel;
class MapWidget;
class NoteModel;

class NetworkPage final : public FreshPage
{
    Q_OBJECT
public:
    explicit NetworkPage(Session &session, QWidget *parent = nullptr);
    void focusField();

Q_SIGNALS:
    void backAsked();

protected:
    void reload() override;

private:
    void listen();
    void fillKinds();
    void chooseKind(std::optional<NetworkNoteKind> kind);
    void showNote();
    void showSources(const NetworkNote *note);
    [[nodiscard]] QString summary();

    Session &m_session;
    QLabel *m_sentence;
    QLabel *m_tolerances;
    BigButton *m_back;
    ButtonList *m_kinds;
    NoteModel *m_model;
    DataTable *m_table;
    FixPanel *m_fixes;
    MapWidget *m_map;
};

} // namespace keyround
