// SPDX-License-Identifier: GPL-3.0-or-later
// One request: what was found and where, its life, and what can be written down next. A step that
// cannot be taken says why beside the line that is wrong, and writes nothing.
#pragma once

#include "app/shell/session.h"
#include "core/repairs/repair_answers.h"

#include <QFrame>

class QCheckBox;
class QLabel;
class QLineEdit;
class QPushButton;

namespace keyround {

class ProposalModel;

class RequestCard final : public QFrame
{
    Q_OBJECT
public:
    /// The proposals are worked out once, by their table: they follow from all visits.
    RequestCard(Session &session, const ProposalModel &proposals, QWidget *parent = nullptr);

    /// A null id empties the card.
    void showRequest(const RequestId &request);
    [[nodiscard]] RequestId request() const { return m_request; }

Q_SIGNALS:
    void valveAsked(const ValveId &valve);

private:
    [[nodiscard]] QWidget *buildWords();
    [[nodiscard]] QWidget *buildSteps();
    QLineEdit *addLine(class QFormLayout *form, const QString &label, const char *name);
    QPushButton *addStep(class QLayout *row, const QString &words, const char *name,
                         RepairStep step);
    void refresh();
    void refreshProposal();
    void write(RepairStep step);
    void decide();
    void refuse(QLineEdit *line, const QString &why);
    /// What is typed, or empty after a refusal.
    [[nodiscard]] std::optional<RepairAnswer> typed(RepairStep step);
    void clearLines();

    Session &m_session;
    const ProposalModel &m_proposals;
    RequestId m_request;
    QLabel *m_title;
    QLabel *m_facts;
    QLabel *m_evidence;
    QLabel *m_life;
    QLabel *m_proposal;
    QPushButton *m_yes;
    QPushButton *m_valve;
    QLabel *m_hint;
    QWidget *m_record = nullptr; ///< what it says; hidden while no request is chosen
    QWidget *m_steps = nullptr;
    QLineEdit *m_day = nullptr;
    QLineEdit *m_by = nullptr;
    QLineEdit *m_words = nullptr;
    QCheckBox *m_replaced = nullptr;
    QLineEdit *m_year = nullptr;
    QLineEdit *m_turns = nullptr;
    QLineEdit *m_size = nullptr;
    QLabel *m_refusal = nullptr;
};

} // namespace keyround
