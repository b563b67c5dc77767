// SPDX-License-Identifier: GPL-3.0-or-later
// What can be decided about the mains by hand: for one note of the report, the placing of a
// source, or the taking back of what was decided. Every decision is a command and can be undone.
#pragma once

#include "app/shell/session.h"

#include <QScrollArea>

class QComboBox;
class QLabel;
class QLineEdit;
class QVBoxLayout;

namespace keyround {

class BigButton;

class FixPanel final : public QScrollArea
{
    Q_OBJECT
public:
    explicit FixPanel(Session &session, QWidget *parent = nullptr);

    void showNothing(const QString &words);
    void showNote(const NetworkNote &note);
    void showSourceForm();
    void showDecisions();
    /// A click on the map: the number of the main there goes into the line, or the source is
    /// placed there.
    void placeClicked(const GeoPoint &place);
    [[nodiscard]] bool showsDecisions() const { return m_mode == Mode::Decisions; }

private:
    enum class Mode { Nothing, Note, Source, Decisions };

    void buildSourceForm();
    void clear(Mode mode, const QString &words);
    BigButton *addButton(const QString &name, const QString &words);
    void decide(const NetworkFixes &after, const QString &text);
    void refuse(const QString &message);
    void takeMain();
    void placeSource(const GeoPoint &place);

    Session &m_session;
    Mode m_mode = Mode::Nothing;
    NetworkNote m_note;
    QWidget *m_inner;
    QVBoxLayout *m_layout;
    QLabel *m_words;
    QLabel *m_refusal;
    QWidget *m_mainForm;
    QLineEdit *m_main;
    QWidget *m_sourceForm;
    QComboBox *m_kind;
    QLineEdit *m_number;
    QLineEdit *m_name;
    QList<BigButton *> m_buttons;
};

} // namespace keyround
